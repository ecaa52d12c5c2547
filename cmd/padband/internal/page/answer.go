package page

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"time"

	"padband/charts"
	"padband/cmd/padband/internal/beside"
)

// bodyBytes caps what a call other than a photo may bring.
const bodyBytes = 1 << 20

// bodyTime is how long such a call may take to arrive.
const bodyTime = 30 * time.Second

// refusal is an error as the page gets it.
type refusal struct {
	Error  string   `json:"error"`
	Field  string   `json:"field,omitempty"`
	Exists []string `json:"exists,omitempty"`
}

// refuse answers with one line that says what is wrong.
func refuse(w http.ResponseWriter, status int, err error) {
	out := refusal{Error: strings.Join(strings.Fields(err.Error()), " ")}
	var typed *charts.TypedError
	if errors.As(err, &typed) {
		out.Field = typed.Field
	}
	var exists *beside.ExistsError
	if errors.As(err, &exists) {
		out.Exists = exists.Names
	}
	answerStatus(w, status, out)
}

func nothing(w http.ResponseWriter, r *http.Request) {
	refuse(w, http.StatusNotFound, errors.New("padband answers no such call; reload the page"))
}

func answer(w http.ResponseWriter, body any) { answerStatus(w, http.StatusOK, body) }

func answerStatus(w http.ResponseWriter, status int, body any) {
	data, err := json.Marshal(body) // whole before the first byte, so that a failure is still an error
	if err != nil {
		status, data = http.StatusInternalServerError, []byte(`{"error":"the answer could not be written; try again"}`)
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(data)
}

// take reads a call's body: one JSON object with known fields alone. When it
// cannot be, the call is answered.
func take(w http.ResponseWriter, r *http.Request, into any) bool {
	http.NewResponseController(w).SetReadDeadline(time.Now().Add(bodyTime))
	err := only(http.MaxBytesReader(w, r.Body, bodyBytes), into)
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		refuse(w, http.StatusRequestEntityTooLarge, errors.New("this call is too large; reload the page"))
	case err != nil:
		refuse(w, http.StatusBadRequest, errors.New("this call is not what the page sends; reload the page"))
	}
	return err == nil
}

// only reads one JSON object with known fields, and nothing after it.
func only(r io.Reader, into any) error {
	d := json.NewDecoder(r)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, after := d.Token(); after != io.EOF {
		return errors.New("something after the object")
	}
	return nil
}

package history

import (
	"errors"
	"fmt"

	"padband/cmd/padband/internal/lines"
)

// Errors of a gathering that has no series to show. They say what was found; which
// choice would help is for the caller to say.
var (
	ErrMany     = fmt.Errorf("over %d readings were found", mostGathered)
	ErrPresence = errors.New("the readings chosen are of present or not, which has no trend")
)

// NoneError is the error of a gathering that took none of so many records.
type NoneError struct{ Records int }

// Error names how many records there were. What chose among them is not known here.
func (e *NoneError) Error() string {
	return fmt.Sprintf("none of %s is chosen", lines.Count(e.Records, "record"))
}

// LongError is the error of a series with more records than are compared.
type LongError struct{ Analyte, Where string }

// Error names the series and the cap. What would make the series shorter is for the
// caller to say.
func (e *LongError) Error() string {
	return fmt.Sprintf("%s of %s has over %d records", e.Analyte, e.Where, mostInSeries)
}

//go:build !js

package host

import (
	"crypto/subtle"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"padband/cmd/padband/internal/hosted"
)

// policy lets the page use its own files and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// ServeHTTP answers one call: only for a host of ours, below the token's path,
// and not on behalf of another site. A panic becomes one line to the person.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	defer func() {
		if p := recover(); p != nil {
			if p == http.ErrAbortHandler {
				panic(p)
			}
			send(w, r, hosted.Refuse(hosted.Failf(hosted.Failed,
				"padband went wrong here (%v); what is marked is still there: try again, or save and start it anew", p)))
		}
	}()
	// Nothing from elsewhere is loaded, no other site reads or frames the page, and
	// no browser keeps what it showed.
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-store")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	rest, ok := s.mine(r)
	if !ok {
		http.Error(w, "404 page not found", http.StatusNotFound)
		return
	}
	if err := s.cross.Check(r); err != nil || !sameOrigin(r) {
		send(w, r, hosted.Refuse(hosted.Failf(hosted.Forbidden, "this call came from another site; open the address that padband printed")))
		return
	}
	s.serve(w, r, rest)
}

// mine is the path behind the token, for a call to one of our hosts. Tokens are
// compared in a time that does not tell how much of one was right.
func (s *Server) mine(r *http.Request) (rest string, ok bool) {
	if !slices.Contains(s.hosts, r.Host) && !slices.Contains(s.hosts, r.Host+":80") {
		return "", false
	}
	token, rest, found := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	if !found || subtle.ConstantTimeCompare([]byte("/"+token+"/"), []byte(s.path)) != 1 {
		return "", false
	}
	return "/" + rest, true
}

// sameOrigin refuses what a browser says comes from elsewhere: another page's
// fetch, picture or frame. A typed address comes from nowhere.
func sameOrigin(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
	default:
		if r.Method != http.MethodGet || r.Header.Get("Sec-Fetch-Mode") != "navigate" || strings.Contains(r.URL.Path, "/api/") {
			return false
		}
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && u.Host == r.Host
}

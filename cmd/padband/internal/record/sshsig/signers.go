package sshsig

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"golang.org/x/crypto/ssh"
)

// allowed is one line of a signers file (ssh-keygen(1), ALLOWED SIGNERS).
type allowed struct {
	principals    []string
	key           ssh.PublicKey
	namespaces    []string // patterns; none means any
	after, before time.Time
}

// Signers is who may sign, and with which key.
type Signers []allowed

// lineEnds are LF, CR and CRLF.
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// ParseSigners reads a signers file. Lines of certificate authorities are
// refused: certificates are not read here.
func ParseSigners(data []byte) (Signers, error) {
	var out Signers
	for i, line := range strings.Split(lineEnds.Replace(string(data)), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		a, err := parseAllowed(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		out = append(out, a)
	}
	if out == nil {
		return nil, errors.New("it names no signer")
	}
	return out, nil
}

// word cuts the first word off; blanks within quotes belong to it.
func word(s string) (first, rest string) {
	quoted := false
	for i := range len(s) {
		switch {
		case s[i] == '"':
			quoted = !quoted
		case !quoted && (s[i] == ' ' || s[i] == '\t'):
			return s[:i], strings.TrimLeft(s[i:], " \t")
		}
	}
	return s, ""
}

// parseAllowed reads one line: names, options and the key.
func parseAllowed(line string) (a allowed, err error) {
	names, rest := word(line)
	a.principals = strings.Split(strings.Trim(names, `"`), ",")
	key, _, options, _, err := ssh.ParseAuthorizedKey([]byte(rest))
	if err != nil {
		return a, errors.New("it takes names, options, and a public key")
	}
	a.key = key
	for _, o := range options {
		if err := a.option(o); err != nil {
			return a, err
		}
	}
	return a, nil
}

// option takes one option of a line; one that is not known is refused, for it may
// forbid something.
func (a *allowed) option(o string) (err error) {
	name, value, _ := strings.Cut(o, "=")
	value = strings.Trim(value, `"`)
	switch strings.ToLower(name) {
	case "namespaces":
		a.namespaces = strings.Split(value, ",")
	case "valid-after":
		a.after, err = validTime(value)
	case "valid-before":
		a.before, err = validTime(value)
	case "cert-authority":
		return errors.New("it names a certificate authority; certificates are not read here, name the signer's own key")
	default:
		return fmt.Errorf("the option %.40q is not known", name)
	}
	return err
}

// validTime reads YYYYMMDD[HHMM[SS]], in local time or with a last Z in UTC.
func validTime(s string) (time.Time, error) {
	zone := time.Local
	digits, utc := strings.CutSuffix(s, "Z")
	if utc {
		zone = time.UTC
	}
	layout := map[int]string{8: "20060102", 12: "200601021504", 14: "20060102150405"}[len(digits)]
	t, err := time.ParseInLocation(layout, digits, zone)
	if err != nil || layout == "" {
		return t, fmt.Errorf("%.30q is not a time of the form YYYYMMDD or YYYYMMDDHHMMSS", s)
	}
	return t, nil
}

// match is whether a pattern with * and ? fits.
func match(pattern, s string) bool {
	if pattern == "" {
		return s == ""
	}
	switch {
	case pattern[0] == '*':
		return match(strings.TrimLeft(pattern, "*"), s) || s != "" && match(pattern, s[1:])
	case s == "" || pattern[0] != '?' && pattern[0] != s[0]:
		return false
	}
	return match(pattern[1:], s[1:])
}

// admits says why a line does not count for a record at a time, or "".
func (a allowed) admits(now time.Time) string {
	switch {
	case a.namespaces != nil && !anyMatch(a.namespaces, Namespace):
		return "this key may not sign in the namespace " + Namespace
	case !a.after.IsZero() && now.Before(a.after):
		return "this key is valid only from " + a.after.Format(time.RFC3339)
	case !a.before.IsZero() && !now.Before(a.before):
		return "this key was valid only until " + a.before.Format(time.RFC3339)
	}
	return ""
}

// anyMatch is whether one of the patterns fits.
func anyMatch(patterns []string, s string) bool {
	for _, p := range patterns {
		if match(p, s) {
			return true
		}
	}
	return false
}

// Whose says who holds a key, named as [Check] names it. why tells why nobody who
// may sign does; everyone is whether the file gives the key to any name at all,
// which tells nothing.
func (ss Signers) Whose(key string, now time.Time) (names string, everyone bool, why string) {
	why = "is by a key that the signers file does not name"
	for _, a := range ss {
		if keyName(a.key) != key {
			continue
		}
		if no := a.admits(now); no != "" {
			why = "does not count: " + no
			continue
		}
		return strings.Join(a.principals, ", "), anyStar(a.principals), ""
	}
	return "", false, why
}

// anyStar is whether the names are any name at all.
func anyStar(principals []string) bool {
	for _, p := range principals {
		if strings.Trim(p, "*") == "" {
			return true
		}
	}
	return false
}

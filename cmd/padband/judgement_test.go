package main

import (
	"encoding/json"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// flat is a text or a page on one line, without tags.
func flat(s string) string {
	s = regexp.MustCompile(`<[^>]*>`).ReplaceAllString(s, " ")
	return strings.Join(strings.Fields(strings.ReplaceAll(html.UnescapeString(s), "\u00a0", " ")), " ")
}

// A home owner asks whether the water is over the limit. Terminal, JSON, the
// record's page and its own copy, and the sheet of a later report give one and
// the same answer: its verdict with the figure, what it rests on, what settles
// it, and what to do. (The marking page's is held to the command's JSON there.)
func TestOneJudgementEverywhere(t *testing.T) {
	photo, err := filepath.Abs(root + "testdata/demo/kitchen.jpg")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	for _, limit := range []string{"us-epa", "who", "nitrate 3 mg/L as N", "nitrate 20 mg/L as N"} {
		code, text, errOut := call("read", photo, "--limit", limit, "--analyte", "nitrate")
		require.Zero(t, code, errOut)
		code, line, errOut := call("read", photo, "--limit", limit, "--json")
		require.Zero(t, code, errOut)
		var parsed struct {
			Readings []struct {
				Judgement struct {
					Verdict     string
					Words, Next []string
				}
			}
		}
		require.NoError(t, json.Unmarshal([]byte(line), &parsed))
		j := parsed.Readings[0].Judgement
		require.NotEmpty(t, j.Words, limit)
		require.NotEmpty(t, j.Verdict)

		require.NoError(t, os.Mkdir("kept", 0o755))
		code, _, errOut = call("keep", photo, "--into", "kept", "--limit", limit)
		require.Zero(t, code, errOut)
		names, err := os.ReadDir("kept")
		require.NoError(t, err)
		dir := filepath.Join("kept", names[0].Name())
		own := readText(t, filepath.Join(dir, "data/report.html"))
		code, later, errOut := call("report", dir, "-o", "-")
		require.Zero(t, code, errOut)
		assert.Contains(t, readText(t, filepath.Join(dir, "data/reading.json")), `"verdict":"`+j.Verdict+`"`)
		for where, s := range map[string]string{"terminal": text, "the record's page": own, "a later report": later} {
			for _, w := range append(j.Words, j.Next...) {
				assert.Contains(t, flat(s), flat(w), "%s, %s", limit, where)
			}
		}
		require.NoError(t, os.RemoveAll("kept"))
	}
}

// The story of the README: the answer, and what would settle it and what not.
func TestHomeOwnersQuestion(t *testing.T) {
	code, out, errOut := call("read", root+"testdata/demo/kitchen.jpg", "--analyte", "nitrate", "--limit", "us-epa")
	require.Zero(t, code, errOut)
	said := flat(out)
	assert.Regexp(t, `Cannot tell: [34][0-9] % that the water is over 10 mg/L as N`, said)
	for _, want := range []string{
		"for a private well it is a yardstick", "A certified laboratory settles it.", "A second strip of the same bottle does not settle it",
		"Diluting the water does not settle it either", "Do not use this water for baby formula", "ask a doctor", "Do not boil it", "A water softener does not take nitrate out",
		"Local codes and the health authority decide",
	} {
		assert.Contains(t, said, want)
	}
	assert.NotRegexp(t, `(?i)\bsafe\b`, said)
}

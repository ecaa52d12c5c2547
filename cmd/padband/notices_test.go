package main

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every module in the program has its notice, with the version that is used.
func TestNoticesNameEveryModule(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", ".").Output()
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, m := range strings.Split(string(out), "\n") {
		if m == "" || seen[m] {
			continue
		}
		seen[m] = true
		assert.Contains(t, notices, "\n"+m+"\n", "make the notices again: go generate ./cmd/padband")
	}
	assert.Greater(t, len(seen), 15)
	for _, part := range []string{"GNU LESSER GENERAL PUBLIC LICENSE", "Apache License", "Copyright 2009 The Go Authors", "SIL OPEN FONT LICENSE", "Creative Commons Attribution"} {
		assert.Contains(t, strings.ToLower(notices), strings.ToLower(part))
	}
}

func TestVersionPrintsNotices(t *testing.T) {
	code, out, errOut := call("version", "--notices")
	assert.Zero(t, code, errOut)
	assert.Equal(t, notices, out)
	code, out, _ = call("version")
	assert.Zero(t, code)
	assert.Equal(t, 1, strings.Count(out, "\n"))
}

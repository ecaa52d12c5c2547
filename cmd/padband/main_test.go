package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/decoder"
)

func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == decoder.Argument {
		main() // a decoder that a test's own process asked for
	}
	if os.Getenv("PADBAND_BENCHMARK") != "" {
		if os.Args[1] == bareArgument {
			bareDecode(os.Args[2])
			os.Exit(exitOK)
		}
		main()
	}
	testscript.Main(m, map[string]func(){"padband": main})
}

// TestScripts runs the command as a person would; the scripts are under testdata/script.
func TestScripts(t *testing.T) {
	demo, err := os.Getwd()
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", demo+"/../../testdata/demo")
			return nil
		},
	})
}

// call runs the command with buffers.
func call(args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	code = run(args, strings.NewReader(""), &o, &e)
	return code, o.String(), e.String()
}

func TestNoLineOverEightyColumns(t *testing.T) {
	for _, args := range [][]string{
		{"help"}, {"help", "mark"}, {"help", "outline"}, {"help", "blind"}, {"help", "read"}, {"help", "chart"}, {"help", "compare"}, {"chart", "list"}, {"chart", "show", "orchard-well"}, {"chart", "show", "mill-spring"},
		{"read", "../../testdata/demo/kitchen.jpg"}, {"read", "../../testdata/demo/cellar.jpg"},
	} {
		code, out, errOut := call(args...)
		require.Equal(t, 0, code, errOut)
		require.NotEmpty(t, out)
		for _, l := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, len([]rune(l)), 80, "%v: %s", args, l)
		}
		assert.NotContains(t, out, "\x1b", "no colour codes: nothing rests on colour")
	}
}

// The hidden argument is in no help, and has its exit codes.
func TestDecoderIsHidden(t *testing.T) {
	_, out, _ := call("help")
	assert.NotContains(t, out, "decode")
	code, out, errOut := call(decoder.Argument)
	assert.Equal(t, []any{exitError, "FAILEOF", ""}, []any{code, out, errOut})
}

package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each row of the table is in the overview, is called by its name, and explains
// itself the same by help and by its own flag.
func TestTableOfCommands(t *testing.T) {
	_, overview, _ := call("help")
	names := map[string]bool{}
	for _, c := range commands() {
		require.False(t, names[c.name], c.name)
		names[c.name] = true
		assert.Contains(t, overview, "  padband "+c.name+" ")
		for _, u := range c.use {
			assert.Equal(t, c.name, strings.Fields(u)[0])
		}
		code, help, errOut := call("help", c.name)
		require.Equal(t, exitOK, code, errOut)
		assert.True(t, strings.HasPrefix(help, c.short+"\n\nusage: padband "+c.use[0]+"\n"), help)
		assert.Contains(t, help, c.more)
		code, own, errOut := call(c.name, "--help")
		assert.Equal(t, exitOK, code, errOut)
		assert.Equal(t, help, own)
		assert.True(t, strings.HasSuffix(help, "\nExit codes: 0 done, 1 bad input, 2 wrong call"+c.codes+".\n"), help)
		code, out, errOut := call(c.name, "--no-such-flag")
		assert.Equal(t, exitUsage, code)
		assert.Empty(t, out)
		assert.True(t, strings.HasPrefix(errOut, "usage: padband "+c.use[0]+"\n"), errOut)
		assert.True(t, strings.HasSuffix(errOut, "\npadband: unknown flag: --no-such-flag\n"), "what is wrong stands last: %s", errOut)
		assert.LessOrEqual(t, strings.Count(errOut, "\n"), len(c.use)+2, "the usage is short")
	}
	assert.Len(t, names, 18)
}

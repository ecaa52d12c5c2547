package page

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The types that the scripts' comments tell of are right: TypeScript's checker
// finds no fault. jsconfig.json, beside the folder of the page's files, says how
// it looks, and an editor that knows of it says the same.
func TestTheScriptsTypes(t *testing.T) {
	checker := os.Getenv("PADBAND_TSC")
	if _, err := os.Stat(checker); err != nil {
		unchecked(t, "PADBAND_TSC does not name TypeScript's lib/tsc.js")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		unchecked(t, "there is no node here")
	}
	out, err := exec.Command(node, checker, "--project", "jsconfig.json", "--pretty", "false").CombinedOutput()
	require.NoError(t, err, "%s", out)
}

func unchecked(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what + "; .ci/run gets what checks the scripts' types")
}

// Every script is checked, and none says that it may hold anything.
func TestEveryScriptIsChecked(t *testing.T) {
	seen := 0
	for _, name := range ownNames(t) {
		if !strings.HasSuffix(name, ".js") {
			continue
		}
		seen++
		data, err := embedded.ReadFile("web/" + name)
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(data), "// @ts-check\n"), name)
		for _, without := range []string{"@ts-ignore", "@ts-nocheck", "@ts-expect-error", "{any", "<any", " any>", "any[]", "| any"} {
			assert.NotContains(t, string(data), without, name)
		}
	}
	assert.Greater(t, seen, 20)
}

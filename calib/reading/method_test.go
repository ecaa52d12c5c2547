package reading

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
)

var put = flag.Bool("put", false, "write the files of this method, which must be a new one")

// Whatever changes a byte of a reading raises calib.Method: what this program
// writes of the demo photos is what its method wrote first. After a change, raise
// the method, see how it differs, and write the new method's files with
//
//	go test ./calib/reading -run TestMethodRises -args -put
//
// They stay for ever, so that each method's files are known to parse.
func TestMethodRises(t *testing.T) {
	folder := filepath.Join("testdata", fmt.Sprintf("method-%d", calib.Method))
	if *put {
		require.NoError(t, os.Mkdir(folder, 0o755), "a method's files are written once")
	}
	seen := 0
	for question, ask := range questions(t) {
		for _, photo := range []string{"kitchen", "cellar"} {
			f := Of(answered(t, photo, ask), Origin{File: photo + ".jpg", Version: "-"})
			f.Program.Go = "-"
			now, err := f.Encode()
			require.NoError(t, err)
			name := filepath.Join(folder, photo+"-"+question+".reading.json")
			if *put {
				require.NoError(t, os.WriteFile(name, append(now, '\n'), 0o644))
			}
			was, err := os.ReadFile(name)
			require.NoError(t, err, "the method was raised and its files were not written")
			seen++
			if runtime.GOARCH == "amd64" {
				assert.Equal(t, string(was), string(now)+"\n", "%s: raise calib.Method", name)
				continue
			}
			sameButForRounding(t, name, was, now)
		}
	}
	assert.Equal(t, 10, seen)
}

// sameButForRounding compares two files; another processor may round the last of
// five digits otherwise.
func sameButForRounding(t *testing.T, name string, was, now []byte) {
	t.Helper()
	var a, b any
	require.NoError(t, json.Unmarshal(was, &a))
	require.NoError(t, json.Unmarshal(now, &b))
	assert.True(t, near(a, b), "%s: raise calib.Method", name)
}

// near is equality of JSON values, of numbers to a unit of the fifth digit.
func near(a, b any) bool {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		for k, v := range a {
			ok = ok && near(v, b[k])
		}
		return ok && len(a) == len(b)
	case []any:
		b, ok := b.([]any)
		ok = ok && len(a) == len(b)
		for i := range a {
			ok = ok && near(a[i], b[i])
		}
		return ok
	case float64:
		b, ok := b.(float64)
		return ok && math.Abs(a-b) <= 1.01e-4*math.Max(math.Abs(a), math.Abs(b))+1e-9
	}
	return a == b
}

func TestNearSeesADifference(t *testing.T) {
	for text, want := range map[string]bool{`{"a":[1.0001,"x"]}`: true, `{"a":[1.001,"x"]}`: false, `{"a":[1,"y"]}`: false,
		`{"a":[1]}`: false, `{"a":[1,"x"],"b":1}`: false, `[]`: false} {
		var a, b any
		require.NoError(t, json.Unmarshal([]byte(`{"a":[1,"x"]}`), &a))
		require.NoError(t, json.Unmarshal([]byte(text), &b))
		assert.Equal(t, want, near(a, b), text)
	}
}

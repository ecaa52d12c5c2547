package strict

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The two texts of RFC 8259, section 13, are JSON; a list or a value alone is too.
func TestTextsOfTheStandardAreTaken(t *testing.T) {
	image := `{
        "Image": {
            "Width":  800,
            "Height": 600,
            "Title":  "View from 15th Floor",
            "Thumbnail": {
                "Url":    "http://www.example.com/image/481989943",
                "Height": 125,
                "Width":  100
            },
            "Animated" : false,
            "IDs": [116, 943, 234, 38793]
          }
      }`
	root, err := Parse([]byte("\xef\xbb\xbf" + image))
	require.NoError(t, err)
	ids := root.items[0].items[len(root.items[0].items)-1]
	assert.Equal(t, "Image.IDs[3]", ids.items[3].Path())
	assert.Equal(t, "38793", ids.items[3].Text)
	for _, text := range []string{`[{"precision": "zip", "Latitude": 37.7668}]`, `"Hello world!"`, `42`, `true`} {
		_, err := Parse([]byte(text))
		assert.NoError(t, err, text)
	}
}

// What RFC 8259 has no room for, and what it leaves open and could be read in two
// ways, is refused in one line: comments, trailing commas, bare words, a name twice.
func TestWhatIsNoJSONIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":                        "is empty; write it anew",
		" \n":                     "is empty; write it anew",
		"\xff{}":                  "is not UTF-8 text; save it as UTF-8",
		`{"a": 1,}`:               "is not JSON at line 1, column 9",
		"{\n \"a\": 1 // one\n}":  "is not JSON at line 2, column 9",
		`{a: 1}`:                  "is not JSON at line 1, column 2",
		`[1, 2`:                   "is not JSON at line 1",
		`{} {}`:                   "is not JSON at line 1, column 4",
		`[NaN]`:                   "is not JSON at line 1, column 2",
		`[01]`:                    "is not JSON at line 1, column 3",
		`{"a": {"b": 1, "b": 2}}`: "a.b: is there twice; keep one of them",
		`{"a b": 1, "a b": 1}`:    `["a b"]: is there twice`,
		strings.Repeat("[", 40):   "is not JSON",
		strings.Repeat("[", 40) + strings.Repeat("]", 40): "is nested over 32 levels deep",
		"[" + strings.Repeat("0,", maxValues) + "0]":      "holds over 200000 values",
		`"` + strings.Repeat("x", maxBytes) + `"`:         "bytes, over the limit of 4194304",
	} {
		_, err := Parse([]byte(text))
		var fault *FileError
		if assert.ErrorAs(t, err, &fault, "%.40q", text) {
			assert.Contains(t, err.Error(), want)
			assert.NotContains(t, err.Error(), "\n")
		}
	}
}

// The first fault is kept and names its place; what is read after it is zero.
func TestFieldsNameTheFirstFault(t *testing.T) {
	open := func(text string, known ...string) (*Decoder, Fields) {
		root, err := Parse([]byte(text))
		require.NoError(t, err)
		d := &Decoder{}
		return d, d.Object(root, known...)
	}
	d, f := open(`{"depth": "3", "width": 7}`, "depth", "width")
	assert.Zero(t, f.Number(f.By["depth"]))
	f.Whole("width", 1, 5, 0)
	assert.EqualError(t, d.Err, `depth: is the text "3", not a number; write a number without quotes`)

	d, f = open(`{"width": 7}`, "depth", "width")
	assert.Equal(t, 4, f.Whole("depth", 1, 9, 4), "absent: the usual one")
	assert.Nil(t, d.Err)
	assert.Equal(t, 4, f.Whole("width", 1, 6, 4))
	assert.EqualError(t, d.Err, "width: is 7; write a whole number from 1 to 6")

	d, _ = open(`{"Width": 7}`, "width")
	assert.EqualError(t, d.Err, "Width: is not a field here; write width")
	d, f = open(`{}`, "width")
	assert.Nil(t, f.Need("width"))
	assert.EqualError(t, d.Err, "width: is missing; add it")
	d, _ = open(`[]`, "width")
	assert.EqualError(t, d.Err, "is a list, not an object; write it in { }")
	d, f = open(`{"width": 1e10}`, "width")
	f.Number(f.By["width"])
	assert.EqualError(t, d.Err, "width: is 1e10, a number beyond 1000000000; write it right")
}

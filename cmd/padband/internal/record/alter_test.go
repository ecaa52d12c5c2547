package record

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
)

// alteration changes a record's folder and returns the path that must be named.
type alteration func(t *testing.T, r *rand.Rand, dir string, names []string) string

func pick(r *rand.Rand, names []string) string { return names[r.IntN(len(names))] }

func rewrite(t *testing.T, name string, change func([]byte) []byte) {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, change(data), 0o644))
}

var alterations = map[string]alteration{
	"change a byte": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		name := pick(r, names)
		rewrite(t, filepath.Join(dir, name), func(b []byte) []byte {
			b[r.IntN(len(b))] ^= byte(1 + r.IntN(255))
			return b
		})
		return name
	},
	"cut the end": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		name := pick(r, names)
		rewrite(t, filepath.Join(dir, name), func(b []byte) []byte { return b[:len(b)-1-r.IntN(len(b)-1)] })
		return name
	},
	"add to the end": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		name := pick(r, names)
		rewrite(t, filepath.Join(dir, name), func(b []byte) []byte { return append(b, "\n"...) })
		return name
	},
	"add a file": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		name := filepath.Join(filepath.Dir(pick(r, names)), fmt.Sprintf("new%d.txt", r.IntN(99)))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("new"), 0o644))
		return name
	},
	"remove": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		name := pick(r, names)
		require.NoError(t, os.Remove(filepath.Join(dir, name)))
		return name
	},
	"swap": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		a := pick(r, names)
		b := pick(r, slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == a }))
		aside := filepath.Join(dir, "aside")
		require.NoError(t, os.Rename(filepath.Join(dir, a), aside))
		require.NoError(t, os.Rename(filepath.Join(dir, b), filepath.Join(dir, a)))
		require.NoError(t, os.Rename(aside, filepath.Join(dir, b)))
		return a
	},
	"a link in its place": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		name := pick(r, names)
		there := filepath.Join(filepath.Dir(dir), "elsewhere")
		require.NoError(t, os.Rename(filepath.Join(dir, name), there))
		require.NoError(t, os.Symlink(there, filepath.Join(dir, name)))
		return name
	},
	"sign with another key": func(t *testing.T, r *rand.Rand, dir string, _ []string) string {
		tag, err := os.ReadFile(filepath.Join(dir, bag.TagManifest))
		require.NoError(t, err)
		sig, err := testKey(t, fmt.Sprint("other", r.Uint64())).Sign(tag)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, SignaturePath), sig, 0o644))
		return SignaturePath
	},
	"save the photo again": func(t *testing.T, r *rand.Rand, dir string, names []string) string {
		i := slices.IndexFunc(names, func(n string) bool { return strings.HasPrefix(n, photoDir) })
		rewrite(t, filepath.Join(dir, names[i]), func(b []byte) []byte { // another coder: all bytes after the start differ
			for k := 2; k < len(b); k++ {
				b[k] ^= byte(r.IntN(256))
			}
			return b
		})
		return names[i]
	},
}

// Each of 500 changes is a fault that names the file. No signers file is given:
// the record's own parts show the change.
func TestNoAlterationIsMissed(t *testing.T) {
	var kinds []string
	for k := range alterations {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	files := made(t, testKey(t, "anna"))
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	parent := t.TempDir()
	for i := range 500 {
		r := rand.New(rand.NewPCG(uint64(i), 1))
		kind := kinds[i%len(kinds)]
		dir := filepath.Join(parent, fmt.Sprint(i), "rec")
		require.NoError(t, os.MkdirAll(filepath.Dir(dir), 0o755))
		require.NoError(t, inFolder(filepath.Dir(dir), filepath.Base(dir), files))
		want := alterations[kind](t, r, dir, names)
		res := verify(t, dir, nil)
		named := slices.ContainsFunc(res.Findings, func(f bag.Finding) bool {
			return f.Fault && (f.About == want || strings.Contains(f.Text, want) || want == bag.TagManifest && f.About == SignaturePath) // which is of that file
		})
		if kind == "a link in its place" {
			assert.Contains(t, lines(res.Findings), "is a link; a record holds files only")
		}
		assert.True(t, named, "%d, %s of %s:\n%s", i, kind, want, lines(res.Findings))
		require.NoError(t, os.RemoveAll(filepath.Dir(dir)))
	}
}

func TestWholeRecordHasNoFault(t *testing.T) {
	for _, s := range []Signer{nil, testKey(t, "anna")} {
		res := verify(t, keep(t, s), nil)
		assert.Zero(t, res.Faults(), lines(res.Findings))
		assert.Regexp(t, `^([0-9a-f]{4} ){4}[0-9a-f]{4}$`, res.Fingerprint)
		assert.Equal(t, "first\nsecond", res.Info.Get("Note"))
		assert.Equal(t, "Tester", res.Info.Get("Facts-Missing"))
		assert.Contains(t, lines(res.Findings), "the photo was read again: the same")
	}
}

// A record made anew by somebody else is whole; only the signers file and the
// fingerprint tell.
func TestWhoSignedIsSaid(t *testing.T) {
	anna, eve := testKey(t, "anna"), testKey(t, "eve")
	line := func(who string) Signers {
		out, err := sshsig.ParseSigners(signersLine(t, who, "anna"))
		require.NoError(t, err)
		return out
	}
	hers, forged := keep(t, anna), keep(t, eve)
	res := verify(t, hers, line("anna"))
	assert.Zero(t, res.Faults())
	assert.Contains(t, lines(res.Findings), "signed by anna with the key SHA256:")
	assert.Contains(t, lines(verify(t, hers, nil).Findings), "proves nothing about who signed")
	assert.Contains(t, lines(verify(t, hers, line("*")).Findings), "any name (*): this proves nothing")

	res = verify(t, forged, line("anna"))
	assert.Equal(t, 1, res.Faults())
	assert.Contains(t, lines(res.Findings), "does not name")
	assert.NotEqual(t, verify(t, hers, nil).Fingerprint, verify(t, forged, nil).Fingerprint)
	assert.Equal(t, 1, verify(t, keep(t, nil), line("anna")).Faults(), "an unsigned record where a signer is asked for")
}

// Where nothing reads signatures, that is said, and no signature makes a record
// look vouched for.
func TestSignatureThatNothingReads(t *testing.T) {
	signers, err := sshsig.ParseSigners(signersLine(t, "anna", "anna"))
	require.NoError(t, err)
	unread := func(dir string, signers Signers) Result {
		root, err := bag.Open(dir)
		require.NoError(t, err)
		defer root.Close()
		return Verify(root, Options{Signers: signers, Again: sameAgain})
	}
	hers, nobodys := keep(t, testKey(t, "anna")), keep(t, nil)
	res := unread(hers, nil)
	assert.Zero(t, res.Faults(), lines(res.Findings))
	assert.Contains(t, lines(res.Findings), "remark: "+SignaturePath+": was not checked here: this proves nothing about who signed")
	res = unread(hers, signers)
	assert.Equal(t, 1, res.Faults(), lines(res.Findings))
	assert.Contains(t, lines(res.Findings), "fault: "+SignaturePath+": was not checked, so nobody of the signers file vouches")

	sig, err := os.ReadFile(filepath.Join(hers, SignaturePath))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(nobodys, SignaturePath), sig, 0o600))
	res = unread(nobodys, nil)
	assert.Equal(t, 1, res.Faults(), lines(res.Findings))
	assert.Contains(t, lines(res.Findings), "fault: "+SignaturePath+": is there, but bag-info.txt names no key that signed")
}

// A finding sends a person to the caller's ways, where the caller has them.
func TestFindingsNameTheCallersWays(t *testing.T) {
	files := made(t, testKey(t, "anna"))
	page := fileOf(t, files, reportPath)
	page.Data = append(page.Data, ' ')
	said := func(w Ways) string {
		return lines(Verify(bag.Memory(files), Options{Again: sameAgain, Ways: w}).Findings)
	}
	with, without := said(Ways{Report: "the reporter", Verify: "the verifier"}), said(Ways{})
	for text, advice := range map[string]string{
		"data/report.html: is not the page that the record gives; do not show it": ", make one with the reporter",
		"this proves nothing about who signed":                                    "; the verifier checks it",
	} {
		assert.Contains(t, with, text+advice+"\n")
		assert.Contains(t, without, text+"\n")
	}
}

func TestReadingAgain(t *testing.T) {
	change := func(old, now string) []bag.Finding {
		return compareReadings([]byte(keptReading), []byte(strings.Replace(keptReading, old, now, 1)))
	}
	for _, c := range []struct {
		old, now, want string
		fault          bool
	}{
		{"", "", "the same", false},
		{"Küche 1", "Kuche-1", "the same", false},
		{"6.8", "6.8001", "the same", false}, // one unit of the fifth digit
		{"6.8", "6.8002", "readings[0].value was 6.8, is 6.8002", true},
		{"6.8", "null", "readings[0].value was 6.8, is null", true},
		{`"low":5.1`, `"high":5.1`, "(and 1 more)", true},
		{`"version":"1"`, `"version":"2"`, "read again by another program", false},
		{`"method":2`, `"method":3`, "no value differs", false},
		{`6.8,"band":{"low":5.1}}],"program":{"version":"1","method":2`, `7.1,"band":{"low":5.1}}],"program":{"version":"1","method":3`, "made by method 2 and read again by method 3: readings[0].value was 6.8, is 7.1", false},
		{`"analyte":"nitrate",`, `"analyte":"nitrate","later":1,`, "readings[0].later was null, is 1", true},
		{`"analyte":"nitrate",`, `"analyte":"",`, "gives no reading: readings[0]: names no analyte", true},
		{"{", "[", "gives no reading", true},
	} {
		fs := change(c.old, c.now)
		require.Len(t, fs, 1)
		assert.Equal(t, c.fault, fs[0].Fault, c.now)
		assert.Contains(t, fs[0].Text, c.want)
	}
}

// What reading files have gained since an older method is no difference; what they
// have lost is.
func TestReadingAgainByANewerMethod(t *testing.T) {
	full := strings.Replace(keptReading, `"analyte":"nitrate",`, `"analyte":"nitrate","unit":"mg/L","warnings":[{"code":"glare","text":"x"}],"budget":[{"source":"light","steps":1}],`, 1)
	now := strings.NewReplacer(`"method":2`, `"method":3`, `"text":"x"`, `"text":"x","places":[{"kind":"pad"}]`, `"source":"light"`, `"source":"light","code":"light"`).Replace(full)
	said := func(was, is string) string {
		fs := compareReadings([]byte(was), []byte(is))
		require.Len(t, fs, 1)
		return fs[0].Text
	}
	assert.Equal(t, "was made by method 2 and read again by method 3: no value differs", said(full, now))
	assert.Contains(t, said(now, full), "readings[0].budget[0].code was", "a newer record read by an older program")
	for _, gone := range []string{`"unit":"mg/L",`, `"value":6.8,`, `,"band":{"low":5.1}`, `"warnings":[{"code":"glare","text":"x"}],`, `"code":"glare",`, `"budget":[{"source":"light","steps":1}],`, `,"sha256":"00"`} {
		require.Contains(t, full, gone)
		assert.Contains(t, said(strings.Replace(full, gone, "", 1), now), " was null, is ", "taken out of the record: %s", gone)
	}
	var f map[string]any
	require.NoError(t, json.Unmarshal([]byte(full), &f))
	delete(f, "readings")
	none, err := json.Marshal(f)
	require.NoError(t, err)
	assert.Contains(t, said(string(none), now), "readings was null")
	for _, m := range []string{"0", "-1"} {
		assert.Contains(t, said(strings.Replace(full, `"method":2`, `"method":`+m, 1), now), "is not a reading: program.method is "+m)
	}
}

// White that was found stands in the light of one photo, or of each photo of a strip.
func TestReadingAgainFindsWhite(t *testing.T) {
	const lit = `"readings":[{"analyte":"nitrate","photo":"b.jpg","range":"within","reliability":"good","value":6.8}],"program":{"version":"1","method":6,"go":"go1"}}`
	const found = `,"found_white":40`
	for where, was := range map[string]string{
		"light.":              `{"format":1,"light":{"unevenness":0.2},` + lit,
		"one_strip[1].light.": `{"format":2,"one_strip":[{"file":"a.jpg","light":{}},{"file":"b.jpg","light":{"unevenness":0.2}}],` + lit,
	} {
		said := func(a, b string) string { return compareReadings([]byte(a), []byte(b))[0].Text }
		same := strings.Replace(was, `:0.2`, `:0.2`+found, 1)
		again := strings.Replace(same, `"method":6`, `"method":7`, 1)
		assert.Equal(t, "was made by method 6 and read again by method 7: no value differs", said(was, again))
		assert.Contains(t, said(again, was), where+"found_white was 40, is null", "a newer record read by an older program")
		assert.Contains(t, said(was, same), where+"found_white was null, is 40", "taken out of a record of this method")
		assert.Contains(t, said(was, strings.Replace(again, `6.8`, `6.8`+found, 1)), "readings[0].found_white was null, is 40", "no light")
	}
}

// A manifest may be written in many ways and a record's in one, so that a change
// which leaves its meaning is seen too, also in an unsigned record's tag manifests.
func TestManifestInAnotherForm(t *testing.T) {
	for _, name := range []string{bag.TagManifest, "tagmanifest-sha256.txt"} {
		for kind, change := range map[string]func(string) string{
			"capitals": strings.ToUpper, "tabs": func(s string) string { return strings.ReplaceAll(s, "  ", "\t") },
			"line ends": func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		} {
			dir := keep(t, nil)
			rewrite(t, filepath.Join(dir, name), func(b []byte) []byte {
				if kind == "capitals" {
					return append([]byte(change(string(b[:64]))), b[64:]...)
				}
				return []byte(change(string(b)))
			})
			assert.Contains(t, lines(verify(t, dir, nil).Findings), name+": was changed: it is not in the form", kind)
		}
	}
}

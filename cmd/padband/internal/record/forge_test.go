package record

import (
	"bytes"
	"crypto/sha256"
	"crypto/sha512"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/cmd/padband/internal/record/stamp"
	"padband/cmd/padband/internal/report/paper"
	"padband/colorimetry/photo"
)

const demoPhoto = "../../../../testdata/demo/kitchen.jpg"

// kitchen is the demonstration photo, read.
func kitchen(t testing.TB) Made {
	t.Helper()
	photo, err := input.Photo(demoPhoto)
	require.NoError(t, err)
	marks, name, err := input.Marks(demoPhoto, "")
	require.NoError(t, err)
	marksData, err := os.ReadFile(name)
	require.NoError(t, err)
	chart, err := input.Chart(demoPhoto, "", marks)
	require.NoError(t, err)
	r, err := strip.Read(strip.Input{Photo: photo, Chart: chart.Chart, Marks: marks, Whole: true})
	require.NoError(t, err)
	return Made{
		Name: "Küche \x01 1.jpg", Photo: photo, Chart: chart, Marks: marksData, Result: r, Received: FromFile,
		Facts:    FactsOf(r, map[string]string{"place": "Mill Lane 7", "note": " first\r\n\n second\x1b[2J\tx \xff"}),
		Attached: []bag.File{{Name: "Étiquette 1.png", Data: []byte("x")}, {Name: "etiquette-1.png", Data: []byte("y")}}, Version: "9.9.9", Day: "2026-11-14",
	}
}

// checkReal verifies files as a folder, with the photo truly read again by a
// program of the version given.
func checkReal(t testing.TB, files []bag.File, version string) Result {
	t.Helper()
	return Verify(bag.Memory(files), Options{Check: sshsig.Check, Stamp: stamp.Check, Ways: Ways{Report: "the reporter"}, Again: func(p Parts) (Remade, error) {
		key := fmt.Sprintf("%q %q %x %x %x %v", p.Name, version, sha256.Sum256(p.Photo), sha256.Sum256(p.Chart), sha256.Sum256(p.Marks), p.Asked)
		for _, s := range p.Shots {
			key += fmt.Sprintf(" %q %x %x", s.Name, sha256.Sum256(s.Photo), sha256.Sum256(s.Marks))
		}
		again, done := readBefore[key]
		if !done {
			var err error
			if again, err = ReadAgain(p, version, photo.Limits{}); err != nil {
				return Remade{}, err
			}
			readBefore[key] = again
		}
		return again.Remade()
	}})
}

// readBefore spares the tests reading the same bytes twice, which gives the same.
var readBefore = map[string]Reread{}

func faultsOf(r Result) (out []string) {
	for _, f := range r.Findings {
		if f.Fault {
			out = append(out, f.String())
		}
	}
	return out
}

func fileOf(t testing.TB, files []bag.File, name string) *bag.File {
	t.Helper()
	for i := range files {
		if files[i].Name == name {
			return &files[i]
		}
	}
	require.Fail(t, "no such file", name)
	return nil
}

// sealed writes all manifests anew, as a forger who knows the form does; the
// signature, which takes the key, stays as it was.
func sealed(files []bag.File) (out []bag.File) {
	for _, f := range files {
		if f.Name == "bagit.txt" || f.Name == "bag-info.txt" || strings.HasPrefix(f.Name, "data/") {
			out = append(out, f)
		}
	}
	for i, f := range out {
		if f.Name == "bag-info.txt" {
			oxum := regexp.MustCompile(`Payload-Oxum: .*`).ReplaceAllString(string(f.Data), "Payload-Oxum: "+oxumOf(out))
			out[i].Data = []byte(oxum)
		}
	}
	out = append(out, listing(out, "manifest-", true)...)
	out = append(out, listing(out, "tagmanifest-", false)...)
	for _, f := range files {
		if f.Name == SignaturePath {
			out = append(out, f)
		}
	}
	return out
}

// oxumOf is the size of the payload as bag-info.txt has it: bytes, a dot, files.
func oxumOf(files []bag.File) string {
	total, n := 0, 0
	for _, f := range files {
		if strings.HasPrefix(f.Name, "data/") {
			total, n = total+len(f.Data), n+1
		}
	}
	return fmt.Sprintf("%d.%d", total, n)
}

// listing writes the manifests of the files in data, or of those beside it, as
// the program sha512sum does.
func listing(files []bag.File, prefix string, inData bool) []bag.File {
	var short, long strings.Builder
	sorted := slices.SortedFunc(slices.Values(files), func(a, b bag.File) int { return strings.Compare(a.Name, b.Name) })
	for _, f := range sorted {
		if strings.HasPrefix(f.Name, "data/") == inData {
			fmt.Fprintf(&short, "%x  %s\n", sha256.Sum256(f.Data), f.Name)
			fmt.Fprintf(&long, "%x  %s\n", sha512.Sum512(f.Data), f.Name)
		}
	}
	return []bag.File{{Name: prefix + "sha256.txt", Data: []byte(short.String())}, {Name: prefix + "sha512.txt", Data: []byte(long.String())}}
}

func copied(files []bag.File) (out []bag.File) {
	for _, f := range files {
		out = append(out, bag.File{Name: f.Name, Data: bytes.Clone(f.Data)})
	}
	return out
}

// forgery changes files of a record; want are the faults it gives when all
// manifests of the unsigned record are written anew. None means that the
// fingerprint alone tells.
type forgery struct {
	name   string
	change func(t *testing.T, files []bag.File)
	want   []string
}

func replaced(name, old, now string) func(*testing.T, []bag.File) {
	return func(t *testing.T, files []bag.File) {
		f := fileOf(t, files, name)
		require.Contains(t, string(f.Data), old)
		f.Data = bytes.Replace(f.Data, []byte(old), []byte(now), 1)
	}
}

var forgeries = []forgery{
	{"a value", replaced(readingPath, `"value":9.9`, `"value":4.7`), []string{"data/reading.json: is not what the photo gives when read again: readings[0].value was 4.7", "data/report.html: is not the page that the record gives"}},
	{"an end of the band", replaced(readingPath, `"low":7.7515`, `"low":1.5974`), []string{"is not what the photo gives", "data/report.html: is not the page"}},
	{"the page", replaced(reportPath, "reads 10.0", "reads 4.7"), []string{"data/report.html: is not the page that the record gives"}},
	{"a picture in the page", replaced(reportPath, "/9j/2w", "/9j/3w"), []string{"data/report.html: is not the page that the record gives"}},
	{"the photo's name", replaced(readingPath, `1.jpg"`, `2.jpg"`), []string{"but the record keeps it as", "data/report.html: is not the page"}},
	{"the place", replaced("bag-info.txt", "Mill Lane 7", "Mill Lane 8"), []string{"data/report.html: is not the page"}},
	{"the note", replaced("bag-info.txt", "first", "worst"), []string{"data/report.html: is not the page"}},
	{"the photo's hash in words", replaced("bag-info.txt", "Photo-SHA-256: 54ed", "Photo-SHA-256: 54ee"), []string{"Photo-SHA-256 is"}},
	{"the position in words", replaced("bag-info.txt", "Photo-Position: no", "Photo-Position: yes"), []string{"Photo-Position is", "data/report.html: is not the page"}},
	{"the method in words", replaced("bag-info.txt", "Method: ", "Method: 1"), []string{"Method is", "data/report.html: is not the page"}},
	{"the version in words", replaced("bag-info.txt", "padband 9.9.9", "padband 9.9.8"), []string{"Program is", "data/report.html: is not the page"}},
	{"place and page", func(t *testing.T, files []bag.File) {
		replaced("bag-info.txt", "Mill Lane 7", "Mill Lane 8")(t, files)
		f := fileOf(t, files, reportPath)
		f.Data = bytes.ReplaceAll(f.Data, []byte("Mill Lane 7"), []byte("Mill Lane 8"))
	}, nil},
	{"an attached file", replaced("data/attached/Etiquette-1.png", "x", "z"), nil},
}

// Somebody who knows the form changes a file and writes all manifests anew. What
// the photo or the record's own facts decide is a fault; of the rest the output
// says that the fingerprint alone tells. In a signed record the signature fails.
func TestForgeryWithAllManifestsAnew(t *testing.T) {
	m := kitchen(t)
	files, err := m.Files()
	require.NoError(t, err)
	whole := checkReal(t, files, m.Version)
	require.Empty(t, faultsOf(whole))
	assert.Contains(t, lines(whole.Findings), "data/report.html: made again from the record: the same")
	m.Signer = testKey(t, "anna")
	signedFiles, err := m.Files()
	require.NoError(t, err)
	require.Empty(t, faultsOf(checkReal(t, signedFiles, m.Version)))
	for _, f := range forgeries {
		t.Run(f.name, func(t *testing.T) {
			forged := copied(files)
			f.change(t, forged)
			res := checkReal(t, sealed(forged), m.Version)
			got := faultsOf(res)
			require.Len(t, got, len(f.want), "%v", got)
			for i, want := range f.want {
				assert.Contains(t, got[i], want)
			}
			assert.NotEqual(t, whole.Fingerprint, res.Fingerprint)
			assert.Contains(t, lines(res.Findings), "only the fingerprint on paper shows that nobody wrote the record anew")

			forged = copied(signedFiles)
			f.change(t, forged)
			assert.Contains(t, faultsOf(checkReal(t, sealed(forged), m.Version))[0], SignaturePath+": does not fit: the signed file or the signature was changed")
		})
	}
}

// Another photo in the place of the first, everything else as it was.
func TestForgedPhoto(t *testing.T) {
	m := kitchen(t)
	files, err := m.Files()
	require.NoError(t, err)
	cellar, err := os.ReadFile(filepath.Join(filepath.Dir(demoPhoto), "cellar.jpg"))
	require.NoError(t, err)
	fileOf(t, files, photoDir+bag.SafeName(m.Name, "")).Data = cellar
	got := strings.Join(faultsOf(checkReal(t, sealed(files), m.Version)), "\n")
	assert.Contains(t, got, "data/reading.json: the photo cannot be read again: photo.sha256: these marks are for another photo")

	marks := fileOf(t, files, marksPath)
	marks.Data = bytes.ReplaceAll(marks.Data, []byte(bag.Sum("sha256", m.Photo)), []byte(bag.Sum("sha256", cellar)))
	got = strings.Join(faultsOf(checkReal(t, sealed(files), m.Version)), "\n")
	assert.Contains(t, got, "data/reading.json: is not what the photo gives when read again: ")
	assert.Contains(t, got, "bag-info.txt: Photo-SHA-256 is")
	assert.Contains(t, got, "data/report.html: is not the page")
}

// A page of another program is compared where it can be, and said not to be elsewhere.
func TestPageOfAnotherProgram(t *testing.T) {
	m := kitchen(t)
	files, err := m.Files()
	require.NoError(t, err)
	res := checkReal(t, files, "10.0.0")
	assert.Empty(t, faultsOf(res))
	assert.Contains(t, lines(res.Findings), "data/report.html: was made by another program and not compared; rely on the page that the reporter makes")
	assert.Contains(t, lines(res.Findings), "read again by another program (padband 10.0.0")

	replaced(reportPath, "reads 10.0", "reads 9.8")(t, files)
	replaced("bag-info.txt", "Program-Build: ", "Program-Build: s390x ")(t, files)
	assert.Contains(t, lines(checkReal(t, sealed(files), m.Version).Findings), "remark: data/report.html: was made by another program")
}

// A record says which form its page has. One made when the page had another, or
// before records said it, has no fault for that; one of this form is compared.
func TestPageOfAnotherForm(t *testing.T) {
	m := kitchen(t)
	line := labelForm + ": " + strconv.Itoa(paper.Form) + "\n"
	for other, want := range map[string]string{
		line: "is not the page that the record gives", "": `Sheet-Form is "", which no program writes`, labelForm + ": x\n": "which no program writes", labelForm + ": 01\n": "which no program writes", labelForm + ": -1\n": "which no program writes",
		labelForm + ": 1\n": "", labelForm + ": 999\n": "",
	} {
		files, err := m.Files()
		require.NoError(t, err)
		replaced("bag-info.txt", line, other)(t, files)
		replaced(reportPath, "reads 10.0", "reads 9.8")(t, files)
		res := checkReal(t, sealed(files), m.Version)
		if want != "" {
			assert.Positive(t, res.Faults(), "%q", other)
			assert.Contains(t, strings.Join(faultsOf(res), "\n"), want, "%q", other)
			continue
		}
		assert.Empty(t, faultsOf(res), "%q", other)
		assert.Contains(t, lines(res.Findings), "and this program makes form 4: it was not compared; rely on the page that the reporter makes", "%q", other)
	}
	files, err := m.Files()
	require.NoError(t, err)
	replaced("bag-info.txt", line, labelForm+": 999\n")(t, files)
	assert.Contains(t, strings.Join(faultsOf(checkReal(t, sealed(files), m.Version)), "\n"), `Sheet-Form is "999", but the record's files say "4"`, "a form that the page does not have")
}

func TestTakenOtherThanThePhotoSays(t *testing.T) {
	m := kitchen(t)
	for said, remarked := range map[string]bool{"": false, "2026-11-14T13:41:10Z": false, "2026-11-15T08:41:10-05:00": true, "noon": true} {
		m.Facts = FactsOf(m.Result, map[string]string{"taken": said})
		files, err := m.Files()
		require.NoError(t, err)
		res := checkReal(t, files, m.Version)
		assert.Empty(t, faultsOf(res))
		assert.Equal(t, remarked, strings.Contains(lines(res.Findings), `the photo itself says "2026-11-14T08:41:10-05:00"`), said)
	}
}

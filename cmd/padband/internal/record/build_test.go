package record

import (
	"crypto/ed25519"
	"crypto/sha256"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/ssh"

	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/cmd/padband/internal/record/stamp"
	"padband/cmd/padband/internal/report"
)

// openKey is a key made from a word, so that a test is the same each time.
func openKey(t testing.TB, word string) ssh.Signer {
	t.Helper()
	seed := sha256.Sum256([]byte(word))
	s, err := ssh.NewSignerFromKey(ed25519.NewKeyFromSeed(seed[:]))
	require.NoError(t, err)
	return s
}

func testKey(t testing.TB, word string) Signer { return sshsig.NewSigner(openKey(t, word)) }

// signersLine gives a test's key to a name, as a line of a signers file.
func signersLine(t testing.TB, name, word string) []byte {
	t.Helper()
	return append([]byte(name+" "), ssh.MarshalAuthorizedKey(openKey(t, word).PublicKey())...)
}

const keptReading = `{"format":1,"photo":{"file":"Küche 1.JPG","sha256":"00"},"readings":[{"analyte":"nitrate","range":"within","reliability":"good","value":6.8,"band":{"low":5.1}}],"program":{"version":"1","method":2,"go":"go1"}}`

// content is a small record's content; the picture is noise.
func content() Content {
	noise := rand.NewChaCha8([32]byte{7})
	photo := make([]byte, 5000)
	_, _ = noise.Read(photo) // never fails
	label := make([]byte, 900)
	_, _ = noise.Read(label)
	return Content{
		PhotoName: "Küche 1.JPG", Photo: photo, Chart: []byte(`{"chart":"invented"}`), Marks: []byte(`{"format":1}`),
		Reading: []byte(keptReading), Report: []byte("<p>invented</p>"), Attached: []bag.File{{Name: "label.png", Data: label}, {Name: "LABEL.png", Data: label[:5]}},
		Facts: append([]bag.Fact{{Label: "Place", Value: "Mill Lane 7"}, {Label: "Tester", Value: ""}, {Label: "Note", Value: "first\nsecond"}}, inventedFacts(photo)...), Day: "2026-11-14",
	}
}

// inventedFacts are the program's own facts of the invented photo and [keptReading].
func inventedFacts(photo []byte) []bag.Fact {
	return []bag.Fact{{Label: labelSHA256, Value: bag.Sum("sha256", photo)}, {Label: labelPosition, Value: "no"}, {Label: labelProgram, Value: "padband 1"}, {Label: labelMethod, Value: "2"}, {Label: labelGo, Value: "go1"}, {Label: labelBuild, Value: build()}, {Label: labelForm, Value: strconv.Itoa(report.SheetForm)}}
}

// sameAgain stands for reading the photo: it gives the kept reading only for the kept bytes.
func sameAgain(p Parts) (Remade, error) {
	c := content()
	page := func(bag.Info, []string, []report.Entry) ([]byte, error) { return c.Report, nil }
	if string(p.Photo) == string(c.Photo) && string(p.Chart) == string(c.Chart) && string(p.Marks) == string(c.Marks) {
		return Remade{Reading: []byte(keptReading), Report: page}, nil
	}
	return Remade{Reading: []byte(strings.Replace(keptReading, "6.8", "7.9", 1)), Report: page}, nil
}

func made(t testing.TB, s Signer) []bag.File {
	t.Helper()
	files, err := Make(content(), s)
	require.NoError(t, err)
	return files
}

// keep writes a record into a folder of the test and returns the record's folder.
func keep(t testing.TB, s Signer) string {
	t.Helper()
	parent := t.TempDir()
	require.NoError(t, inFolder(parent, "rec", made(t, s)))
	return filepath.Join(parent, "rec")
}

func verify(t testing.TB, name string, signers Signers) Result {
	t.Helper()
	root, err := bag.Open(name)
	require.NoError(t, err)
	defer root.Close()
	return Verify(root, Options{Check: sshsig.Check, Stamp: stamp.Check, Signers: signers, Now: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Again: sameAgain})
}

func lines(fs []bag.Finding) string {
	var b strings.Builder
	for _, f := range fs {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

// tool is another program's path. It may be missing on a person's machine, not in CI.
func tool(t testing.TB, name string) string {
	t.Helper()
	p, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is needed to check records from outside", name)
	}
	if err != nil {
		t.Skipf("%s is not on this machine; the check from outside runs where it is", name)
	}
	return p
}

package bag

import (
	"crypto/md5"
	"crypto/sha1"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"slices"
	"strings"
)

// algorithms are the checksums that can be checked. A record is written with
// SHA-512 and SHA-256; the two others are only for reading older bags.
var algorithms = map[string]func() hash.Hash{"sha512": sha512.New, "sha256": sha256.New, "sha1": sha1.New, "md5": md5.New}

// TagManifest is the file that is signed and stamped. Through it a signature and a
// stamp cover every other file.
const TagManifest = "tagmanifest-sha512.txt"

// written are the algorithms for which a record has manifests.
var written = []string{"sha256", "sha512"}

// manifest maps a path to its checksum in hexadecimal, lower case.
type manifest map[string]string

// textLines splits at LF, CR or CRLF (RFC 8493, section 2.1.3); a last line end adds no line.
func textLines(s string) []string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	s = strings.TrimSuffix(s, "\n")
	if s == "" {
		return nil
	}
	return strings.Split(s, "\n")
}

// parseManifest reads a manifest. Each line has a checksum, spaces or tabs, and a path
// in which only %0A, %0D and %25 are codes (RFC 8493, section 2.1.3).
func parseManifest(data []byte, algorithm string) (manifest, error) {
	m := manifest{}
	size := algorithms[algorithm]().Size()
	for i, line := range textLines(string(data)) {
		at := strings.IndexAny(line, " \t")
		if at < 0 {
			return nil, fmt.Errorf("line %d has no path; it takes a checksum, a space and a path", i+1)
		}
		sum, name := strings.ToLower(line[:at]), decodePath(strings.TrimLeft(line[at:], " \t"))
		if raw, err := hex.DecodeString(sum); err != nil || len(raw) != size {
			return nil, fmt.Errorf("line %d has no %s checksum of %d hexadecimal digits", i+1, algorithm, 2*size)
		}
		if why := leaves(name); why != "" {
			return nil, fmt.Errorf("line %d: the path %q %s; it must stay within the folder", i+1, name, why)
		}
		if _, twice := m[name]; twice {
			return nil, fmt.Errorf("line %d lists %q a second time", i+1, name)
		}
		m[name] = sum
	}
	if len(m) == 0 {
		return nil, errors.New("it lists no file")
	}
	return m, nil
}

// These are the codes in a manifest's paths. Only a line end and the percent sign have
// one.
var encoder = strings.NewReplacer("%", "%25", "\n", "%0A", "\r", "%0D")
var decoder = strings.NewReplacer("%25", "%", "%0A", "\n", "%0a", "\n", "%0D", "\r", "%0d", "\r")

func encodePath(p string) string { return encoder.Replace(p) }
func decodePath(p string) string { return decoder.Replace(p) }

// text is the manifest as a record holds it: sorted, with two spaces (so that
// sha256sum -c reads it) and with LF at line ends.
func (m manifest) text() []byte {
	var b strings.Builder
	for _, name := range m.names() {
		fmt.Fprintf(&b, "%s  %s\n", m[name], encodePath(name))
	}
	return []byte(b.String())
}

// names are the listed paths, sorted.
func (m manifest) names() []string {
	var out []string
	for name := range m {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Sum is a checksum in hexadecimal.
func Sum(algorithm string, data []byte) string {
	h := algorithms[algorithm]()
	h.Write(data)
	return hex.EncodeToString(h.Sum(nil))
}

// manifestsOf makes the manifests of the files that lie in data, or of those that do
// not.
func manifestsOf(files []File, prefix string, inData bool) []File {
	var out []File
	for _, alg := range written {
		m := manifest{}
		for _, f := range files {
			if strings.HasPrefix(f.Name, "data/") == inData {
				m[f.Name] = Sum(alg, f.Data)
			}
		}
		out = append(out, File{prefix + alg + ".txt", m.text()})
	}
	return out
}

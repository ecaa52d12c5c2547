package bag

import (
	"bytes"
	"encoding/hex"
	"hash"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Checked holds the result of a check: the info lines, the findings, and the
// manifests.
type Checked struct {
	Info     Info
	Findings []Finding
	payload  map[string]manifest // by algorithm
	tags     map[string]manifest
}

func (b *Checked) fault(about, format string, args ...any) {
	b.Findings = append(b.Findings, Fault(about, format, args...))
}

// manifestName is a manifest's name with its kind and its algorithm.
var manifestName = regexp.MustCompile(`^(tag)?manifest-([a-z0-9]+)\.txt$`)

// Check checks that a bag is valid (RFC 8493, section 3): it is complete, and every
// checksum is right. Tag files that no tag manifest lists are allowed here.
func Check(r *Root) *Checked {
	b := &Checked{payload: map[string]manifest{}, tags: map[string]manifest{}}
	b.structure(r)
	b.manifests(r)
	b.completeness(r)
	b.hashes(r)
	b.oxum(r)
	return b
}

// structure checks the declaration and reads bag-info.txt if there is one.
func (b *Checked) structure(r *Root) {
	b.Findings = append(b.Findings, r.Findings...)
	if data, err := r.Read("bagit.txt", TagBytes); err != nil {
		b.fault("bagit.txt", "%v", Cause(err))
	} else if err := checkDeclaration(data); err != nil {
		b.fault("bagit.txt", "%v", err)
	}
	if r.Has("fetch.txt") {
		b.fault("fetch.txt", "names files that are kept elsewhere; the record is not complete here")
	}
	if !r.Has("bag-info.txt") {
		return
	}
	data, err := r.Read("bag-info.txt", TagBytes)
	if err == nil {
		b.Info, err = ParseInfo(data)
	}
	if err != nil {
		b.fault("bag-info.txt", "%v", Cause(err))
	}
}

// manifests reads all manifests.
func (b *Checked) manifests(r *Root) {
	for _, name := range r.Names() {
		m := manifestName.FindStringSubmatch(name)
		if m == nil {
			continue
		}
		if algorithms[m[2]] == nil {
			b.fault(name, "is of a checksum that is not known here; it cannot be checked")
			continue
		}
		data, err := r.Read(name, TagBytes)
		var lists manifest
		if err == nil {
			lists, err = parseManifest(data, m[2])
		}
		switch {
		case err != nil:
			b.fault(name, "%v", Cause(err))
		case m[1] == "tag":
			b.tags[m[2]] = lists
		default:
			b.payload[m[2]] = lists
		}
	}
	if len(b.payload) == 0 {
		b.fault("manifest", "there is no payload manifest that can be read")
	}
}

// completeness checks which files the manifests list.
func (b *Checked) completeness(r *Root) {
	for _, alg := range algorithmsOf(b.payload) {
		name := "manifest-" + alg + ".txt"
		for _, p := range b.payload[alg].names() {
			if !strings.HasPrefix(p, "data/") {
				b.fault(name, "lists %s, which is outside data", Shown(p))
			}
		}
		for _, p := range r.Names() {
			if _, listed := b.payload[alg][p]; strings.HasPrefix(p, "data/") && !listed {
				b.fault(p, "is an extra file: %s does not list it", name)
			}
		}
	}
	for _, alg := range algorithmsOf(b.tags) {
		b.tagList(alg)
	}
}

// tagList checks what a tag manifest lists: none of the payload, and every manifest of
// it.
func (b *Checked) tagList(alg string) {
	name := "tagmanifest-" + alg + ".txt"
	for _, p := range b.tags[alg].names() {
		if strings.HasPrefix(p, "data/") || strings.HasPrefix(p, "tagmanifest-") {
			b.fault(name, "lists %s, which a tag manifest must not", Shown(p))
		}
	}
	for _, other := range algorithmsOf(b.payload) {
		if p := "manifest-" + other + ".txt"; b.tags[alg][p] == "" {
			b.fault(name, "does not list %s", p)
		}
	}
}

// AsWritten finds the manifests that are not byte for byte as [Files] writes them, and
// the tag manifests that do not list all of these files. Where it finds none, no byte
// of them can have changed unseen.
func (b *Checked) AsWritten(r *Root, tags []string) (found []Finding) {
	for _, kind := range []struct {
		prefix string
		lists  map[string]manifest
	}{{"manifest-", b.payload}, {"tagmanifest-", b.tags}} {
		for _, alg := range algorithmsOf(kind.lists) {
			name := kind.prefix + alg + ".txt"
			data, err := r.Read(name, TagBytes)
			if err == nil && !bytes.Equal(data, kind.lists[alg].text()) {
				found = append(found, Fault(name, "was changed: it is not in the form that a record is written in"))
			}
		}
	}
	for _, alg := range algorithmsOf(b.tags) {
		for _, p := range tags {
			if _, listed := b.tags[alg][p]; !listed {
				found = append(found, Fault("tagmanifest-"+alg+".txt", "does not list %s", p))
			}
		}
	}
	return found
}

// hashes reads every listed file once and compares all its checksums.
func (b *Checked) hashes(r *Root) {
	want := map[string]map[string]string{} // path, algorithm, checksum
	for _, lists := range []map[string]manifest{b.payload, b.tags} {
		for alg, m := range lists {
			for p, s := range m {
				if want[p] == nil {
					want[p] = map[string]string{}
				}
				want[p][alg] = s
			}
		}
	}
	var paths []string
	for p := range want {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	for _, p := range paths {
		b.hashFile(r, p, want[p])
	}
}

// hashFile reads one file once and compares each checksum that a manifest has of it.
func (b *Checked) hashFile(r *Root, p string, want map[string]string) {
	if !r.Has(p) {
		b.fault(p, "is missing: a manifest lists it")
		return
	}
	made, ws := map[string]hash.Hash{}, []io.Writer{}
	for alg := range want {
		made[alg] = algorithms[alg]()
		ws = append(ws, made[alg])
	}
	if err := r.Copy(io.MultiWriter(ws...), p, FileBytes); err != nil {
		b.fault(p, "cannot be read: %v", Cause(err))
		return
	}
	var wrong []string
	for alg, h := range made {
		if hex.EncodeToString(h.Sum(nil)) != want[alg] {
			wrong = append(wrong, alg)
		}
	}
	if slices.Sort(wrong); wrong != nil {
		b.fault(p, "was changed: its %s is not as the manifest has it", strings.Join(wrong, " and "))
	}
}

// oxum checks Payload-Oxum where the bag has one: bytes, a dot, files.
func (b *Checked) oxum(r *Root) {
	n := 0
	for _, f := range b.Info {
		if !strings.EqualFold(f.Label, "Payload-Oxum") {
			continue
		}
		if n++; n > 1 {
			b.fault("bag-info.txt", "has a second Payload-Oxum")
		} else if have := measure(r); f.Value != have {
			b.fault("bag-info.txt", "Payload-Oxum is %.40q but data holds %s", f.Value, have)
		}
	}
}

// measure is the payload's size in the form of Payload-Oxum.
func measure(r *Root) string {
	var total, files int64
	for _, p := range r.Names() {
		if strings.HasPrefix(p, "data/") {
			var c counter
			_ = r.Copy(&c, p, FileBytes) // a file that cannot be read is a finding already
			total, files = total+int64(c), files+1
		}
	}
	return strconv.FormatInt(total, 10) + "." + strconv.FormatInt(files, 10)
}

// counter counts the bytes written to it.
type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

// algorithmsOf are the algorithms of some manifests, sorted.
func algorithmsOf(m map[string]manifest) []string {
	var out []string
	for alg := range m {
		out = append(out, alg)
	}
	slices.Sort(out)
	return out
}

package record

import (
	"encoding/hex"
	"hash"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Bag is what a check of a bag knows of it.
type Bag struct {
	Info     Info
	Findings []Finding
	payload  map[string]manifest // by algorithm
	tags     map[string]manifest
}

func (b *Bag) fault(about, format string, args ...any) {
	b.Findings = append(b.Findings, fault(about, format, args...))
}

var manifestName = regexp.MustCompile(`^(tag)?manifest-([a-z0-9]+)\.txt$`)

// CheckBag checks that a bag is valid (RFC 8493, section 3): complete, and every
// checksum right. Tag files that no tag manifest lists are allowed here.
func CheckBag(r *Root) *Bag {
	b := &Bag{payload: map[string]manifest{}, tags: map[string]manifest{}}
	b.structure(r)
	b.manifests(r)
	b.completeness(r)
	b.hashes(r)
	b.oxum(r)
	return b
}

func (b *Bag) structure(r *Root) {
	b.Findings = append(b.Findings, r.Findings...)
	if data, err := r.read("bagit.txt", tagBytes); err != nil {
		b.fault("bagit.txt", "%v", cause(err))
	} else if err := checkDeclaration(data); err != nil {
		b.fault("bagit.txt", "%v", err)
	}
	if r.has("fetch.txt") {
		b.fault("fetch.txt", "names files that are kept elsewhere; the record is not complete here")
	}
	if !r.has("bag-info.txt") {
		return
	}
	data, err := r.read("bag-info.txt", tagBytes)
	if err == nil {
		b.Info, err = parseInfo(data)
	}
	if err != nil {
		b.fault("bag-info.txt", "%v", cause(err))
	}
}

// manifests reads all manifests.
func (b *Bag) manifests(r *Root) {
	for _, name := range r.names() {
		m := manifestName.FindStringSubmatch(name)
		if m == nil {
			continue
		}
		if algorithms[m[2]] == nil {
			b.fault(name, "is of a checksum that is not known here; it cannot be checked")
			continue
		}
		data, err := r.read(name, tagBytes)
		var lists manifest
		if err == nil {
			lists, err = parseManifest(data, m[2])
		}
		switch {
		case err != nil:
			b.fault(name, "%v", cause(err))
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
func (b *Bag) completeness(r *Root) {
	for _, alg := range algorithmsOf(b.payload) {
		name := "manifest-" + alg + ".txt"
		for _, p := range b.payload[alg].names() {
			if !strings.HasPrefix(p, "data/") {
				b.fault(name, "lists %s, which is outside data", shown(p))
			}
		}
		for _, p := range r.names() {
			if _, listed := b.payload[alg][p]; strings.HasPrefix(p, "data/") && !listed {
				b.fault(p, "is an extra file: %s does not list it", name)
			}
		}
	}
	for _, alg := range algorithmsOf(b.tags) {
		b.tagList(alg)
	}
}

func (b *Bag) tagList(alg string) {
	name := "tagmanifest-" + alg + ".txt"
	for _, p := range b.tags[alg].names() {
		if strings.HasPrefix(p, "data/") || strings.HasPrefix(p, "tagmanifest-") {
			b.fault(name, "lists %s, which a tag manifest must not", shown(p))
		}
	}
	for _, other := range algorithmsOf(b.payload) {
		if p := "manifest-" + other + ".txt"; b.tags[alg][p] == "" {
			b.fault(name, "does not list %s", p)
		}
	}
}

// hashes reads every listed file once and compares all its checksums.
func (b *Bag) hashes(r *Root) {
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

func (b *Bag) hashFile(r *Root, p string, want map[string]string) {
	if !r.has(p) {
		b.fault(p, "is missing: a manifest lists it")
		return
	}
	sums, ws := map[string]hash.Hash{}, []io.Writer{}
	for alg := range want {
		sums[alg] = algorithms[alg]()
		ws = append(ws, sums[alg])
	}
	if err := r.copy(io.MultiWriter(ws...), p, fileBytes); err != nil {
		b.fault(p, "cannot be read: %v", cause(err))
		return
	}
	var wrong []string
	for alg, h := range sums {
		if hex.EncodeToString(h.Sum(nil)) != want[alg] {
			wrong = append(wrong, alg)
		}
	}
	if slices.Sort(wrong); wrong != nil {
		b.fault(p, "was changed: its %s is not as the manifest has it", strings.Join(wrong, " and "))
	}
}

// oxum checks Payload-Oxum where it stands: bytes, a dot, files.
func (b *Bag) oxum(r *Root) {
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

func measure(r *Root) string {
	var bytes, files int64
	for _, p := range r.names() {
		if strings.HasPrefix(p, "data/") {
			var c counter
			_ = r.copy(&c, p, fileBytes) // what cannot be read is a finding already
			bytes, files = bytes+int64(c), files+1
		}
	}
	return strconv.FormatInt(bytes, 10) + "." + strconv.FormatInt(files, 10)
}

type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

func algorithmsOf(m map[string]manifest) []string {
	var out []string
	for alg := range m {
		out = append(out, alg)
	}
	slices.Sort(out)
	return out
}

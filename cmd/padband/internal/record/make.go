package record

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"padband/cmd/padband/internal/record/bag"
)

// Content is what a record is made from.
type Content struct {
	PhotoName string // as received
	Photo     []byte // byte for byte as received
	Shots     []Shot // of several photos of one strip, whose names are distinct; PhotoName, Photo and Marks are then empty
	Chart     []byte
	Marks     []byte
	Reading   []byte     // the reading's JSON
	Report    []byte     // the report's HTML; nil leaves it out
	Limits    []bag.File // sets of limits that the reading was set against
	Attached  []bag.File // further photos, by their own names without a folder
	Facts     []bag.Fact // in order, after the reserved labels; an empty value is a missing fact
	Day       string     // the day of keeping, 2006-01-02
}

// These are the places of a record's parts.
const (
	chartPath     = "data/chart.json"
	marksPath     = "data/marks.json"
	readingPath   = "data/reading.json"
	reportPath    = "data/report.html"
	photoDir      = "data/photo/"
	marksDir      = "data/marks/" // of several photos of one strip
	attachedDir   = "data/attached/"
	SignaturePath = bag.TagManifest + ".sig"
	StampPath     = bag.TagManifest + ".tsr"
)

// Make returns all files of the record, sorted. With a signer, its signature is among
// them. The error comes from the signer or says what is too large.
func Make(c Content, s Signer) ([]bag.File, error) {
	files := c.payload()
	if err := bag.CheckSizes(files); err != nil {
		return nil, err
	}
	info := c.info(files)
	if s != nil {
		info = append(info, bag.Fact{Label: labelSigned, Value: s.Name()})
	}
	files = bag.Files(files, info)
	if s != nil {
		i := slices.IndexFunc(files, func(f bag.File) bool { return f.Name == bag.TagManifest })
		sig, err := s.Sign(files[i].Data)
		if err != nil {
			return nil, err
		}
		files = append(files, bag.File{Name: SignaturePath, Data: sig})
	}
	slices.SortFunc(files, func(a, b bag.File) int { return strings.Compare(a.Name, b.Name) })
	return files, bag.CheckSizes(files)
}

// payload are the files below data. Names are made safe, and no two are the same on
// any system.
func (c Content) payload() []bag.File {
	files := []bag.File{{Name: chartPath, Data: c.Chart}, {Name: readingPath, Data: c.Reading}}
	if len(c.Shots) == 0 {
		files = append(files, bag.File{Name: photoPath(c.PhotoName), Data: c.Photo}, bag.File{Name: marksPath, Data: c.Marks})
	}
	for _, s := range c.Shots {
		p := photoPath(s.Name)
		files = append(files, bag.File{Name: p, Data: s.Photo}, bag.File{Name: marksOf(p), Data: s.Marks})
	}
	if c.Report != nil {
		files = append(files, bag.File{Name: reportPath, Data: c.Report})
	}
	files = append(files, c.Limits...)
	seen := map[string]bool{}
	for _, a := range c.Attached {
		name := bag.SafeName(a.Name, "attached")
		for n := 2; seen[bag.Folded(name)]; n++ {
			name = bag.SafeName(fmt.Sprintf("%d-%s", n, a.Name), "attached")
		}
		seen[bag.Folded(name)] = true
		files = append(files, bag.File{Name: attachedDir + name, Data: a.Data})
	}
	return files
}

// info makes bag-info.txt: the reserved labels that fit, then the facts, then the
// names of the facts that are missing.
func (c Content) info(payload []bag.File) bag.Info {
	var total int
	for _, f := range payload {
		total += len(f.Data)
	}
	from := "a photo"
	if len(c.Shots) > 0 {
		from = strconv.Itoa(len(c.Shots)) + " photos"
	}
	info := bag.Info{
		{Label: "Bagging-Date", Value: c.Day},
		{Label: "External-Description", Value: "A water-test strip read from " + from + ": a screening, not a laboratory's analysis."},
		{Label: "Bag-Size", Value: bagSize(total)},
		{Label: "Payload-Oxum", Value: strconv.Itoa(total) + "." + strconv.Itoa(len(payload))},
	}
	var missing []string
	for _, f := range c.Facts {
		if strings.TrimSpace(f.Value) == "" {
			if !optional(f.Label) {
				missing = append(missing, f.Label)
			}
			continue
		}
		info = append(info, f)
	}
	return append(info, bag.Fact{Label: labelMissing, Value: strings.Join(missing, ", ")})
}

// bagSize prints a size for people, as BagIt suggests for Bag-Size.
func bagSize(n int) string {
	if n < 1_000_000 {
		return fmt.Sprintf("%.1f KB", float64(n)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

// Fingerprint is a short name of a record that a person can write down: the first 20
// hexadecimal digits of the SHA-256 of its tag manifest, in groups of four. Two
// records have the same one by chance once in 2^80.
func Fingerprint(tagManifest []byte) string {
	h := []byte(bag.Sum("sha256", tagManifest)[:20])
	return string(bytes.Join(slices.Collect(slices.Chunk(h, 4)), []byte(" ")))
}

// FolderName is a plain name for a record: the day, the place or point, and the
// first eight digits of the photo's SHA-256. day is "2006-01-02" or longer, or empty.
func FolderName(day, place, photoSHA256 string) string {
	parts := []string{bag.Plain(day[:min(len(day), 10)], ""), strings.ToLower(bag.Plain(place, "")), photoSHA256[:min(len(photoSHA256), 8)]}
	parts[1] = strings.Trim(parts[1][:min(len(parts[1]), 40)], "-")
	var have []string
	for _, p := range parts {
		if p != "" {
			have = append(have, p)
		}
	}
	return strings.Join(have, "-")
}

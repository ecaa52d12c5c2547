package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"sync"
	"testing"

	"github.com/gen2brain/heic"
	"github.com/stretchr/testify/require"

	"padband/colorimetry/photo/heif"
)

// box is one box of a HEIC file.
func box(kind string, parts ...[]byte) []byte {
	body := join(parts...)
	return join(binary.BigEndian.AppendUint32(nil, uint32(8+len(body))), []byte(kind), body)
}

// fullBox begins with a version and flags.
func fullBox(kind string, version, flags byte, parts ...[]byte) []byte {
	return box(kind, append([][]byte{{version, 0, 0, flags}}, parts...)...)
}

func be16(v ...int) (out []byte) {
	for _, n := range v {
		out = binary.BigEndian.AppendUint16(out, uint16(n))
	}
	return out
}

func be32(v ...int) (out []byte) {
	for _, n := range v {
		out = binary.BigEndian.AppendUint32(out, uint32(n))
	}
	return out
}

// heicItem is one item of a file; its number is its place from 1.
type heicItem struct {
	kind  string
	data  []byte
	props [][]byte // boxes, in the item's order
}

// heicOf lays out a file; more boxes go into its description.
func heicOf(primary int, items []heicItem, more ...[]byte) []byte {
	brand := box("ftyp", []byte("heic\x00\x00\x00\x00mif1heic"))
	meta := func(at int) []byte {
		var infos, places, props, ties []byte
		n := 0
		for i, it := range items {
			infos = append(infos, fullBox("infe", 2, 0, be16(i+1, 0), []byte(it.kind), []byte{0})...)
			places = append(places, join(be16(i+1, 0, 1), be32(at, len(it.data)))...)
			at += len(it.data)
			ties = append(ties, join(be16(i+1), []byte{byte(len(it.props))})...)
			for _, p := range it.props {
				n++
				props, ties = append(props, p...), append(ties, byte(n))
			}
		}
		return fullBox("meta", 0, 0, append([][]byte{
			fullBox("hdlr", 0, 0, make([]byte, 4), []byte("pict"), make([]byte, 13)), fullBox("pitm", 0, 0, be16(primary)),
			fullBox("iloc", 0, 0, []byte{0x44, 0}, be16(len(items)), places), fullBox("iinf", 0, 0, be16(len(items)), infos),
			box("iprp", box("ipco", props), fullBox("ipma", 0, 0, be32(len(items)), ties)),
		}, more...)...)
	}
	head := join(brand, meta(0))
	head = join(brand, meta(len(head)+8))
	var all []byte
	for _, it := range items {
		all = append(all, it.data...)
	}
	return join(head, box("mdat", all))
}

// references is the box that ties items together.
func references(kind string, from int, to ...int) []byte {
	return fullBox("iref", 0, 0, box(kind, be16(from, len(to)), be16(to...)))
}

func sizeProp(w, h int) []byte      { return fullBox("ispe", 0, 0, be32(w, h)) }
func rotateProp(left int) []byte    { return box("irot", []byte{byte(left)}) }
func mirrorProp(axis int) []byte    { return box("imir", []byte{byte(axis)}) }
func cutProp(v ...int) []byte       { return box("clap", be32(v...)) }
func iccProp(profile []byte) []byte { return box("colr", []byte("prof"), profile) }

func codeProp(primaries, transfer, matrix int, full byte) []byte {
	return box("colr", []byte("nclx"), be16(primaries, transfer, matrix), []byte{full << 7})
}

// codedItem is the coded picture of a file of one piece, with its size and more properties.
func codedItem(t testing.TB, name string, props ...[]byte) heicItem {
	t.Helper()
	p, err := heif.Read(photoFile(t, name))
	require.NoError(t, err)
	plain := p.Repack()
	at := bytes.Index(plain, []byte("hvcC"))
	config := plain[at-4 : at-4+int(binary.BigEndian.Uint32(plain[at-4:]))]
	data := plain[bytes.Index(plain, []byte("mdat"))+4:]
	if p.Chroma > 0 {
		data = data[:len(data)-12] // behind the tile is a grid of one
	}
	return heicItem{"hvc1", data, append([][]byte{config, sizeProp(p.Width, p.Height)}, props...)}
}

// heicWith is a file of one coded picture with more properties.
func heicWith(t testing.TB, name string, props ...[]byte) []byte {
	t.Helper()
	return heicOf(1, []heicItem{codedItem(t, name, props...)})
}

// decoded keeps what the decoder gave for each plain file.
var decoded sync.Map

// libraryDecoder decodes within the test, each coded picture once.
func libraryDecoder(plain []byte, _, _ int) (image.Image, error) {
	if m, ok := decoded.Load(string(plain)); ok {
		return m.(image.Image), nil
	}
	m, err := heic.Decode(bytes.NewReader(plain))
	if err == nil {
		decoded.Store(string(plain), m)
	}
	return m, err
}

var withHEIC = Limits{HEIC: libraryDecoder}

func mustDecodeHEIC(t testing.TB, file []byte) *Photo {
	t.Helper()
	p, err := Decode(file, withHEIC)
	require.NoError(t, err)
	return p
}

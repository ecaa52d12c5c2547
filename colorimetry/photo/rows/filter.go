package rows

// unfilter takes a row's filter back, by the row before it and the bytes of a pixel
// (PNG specification, third edition, 9.2).
func unfilter(kind byte, now, before []byte, size int) bool {
	before = before[:len(now)]
	switch kind {
	case 0:
	case 1:
		for i := size; i < len(now); i++ {
			now[i] += now[i-size]
		}
	case 2:
		for i, b := range before {
			now[i] += b
		}
	case 3:
		for i := range size {
			now[i] += before[i] / 2
		}
		for i := size; i < len(now); i++ {
			now[i] += byte((int(now[i-size]) + int(before[i])) / 2)
		}
	case 4:
		for i := range size {
			now[i] += before[i]
		}
		for i := size; i < len(now); i++ {
			now[i] += nearest(int(now[i-size]), int(before[i]), int(before[i-size]))
		}
	default:
		return false
	}
	return true
}

// nearest is the Paeth predictor of left, above and above left.
func nearest(a, b, c int) byte {
	pa, pb := b-c, a-c
	pc := abs(pa + pb)
	pa, pb = abs(pa), abs(pb)
	switch {
	case pa <= pb && pa <= pc:
		return byte(a)
	case pb <= pc:
		return byte(b)
	}
	return byte(c)
}

func abs(v int) int { return max(v, -v) }

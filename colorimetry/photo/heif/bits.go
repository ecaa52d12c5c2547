package heif

// bits reads a bit stream from its highest bit. Past its end it gives zeros and
// short is set.
type bits struct {
	data  []byte
	at    int // in bits
	short bool
}

func (b *bits) flag() bool { return b.bits(1) == 1 }

// bits reads n bits, up to 31.
func (b *bits) bits(n int) (v int) {
	for range n {
		if b.at >= 8*len(b.data) {
			b.short = true
			return 0
		}
		v = v<<1 | int(b.data[b.at/8]>>(7-b.at%8)&1)
		b.at++
	}
	return v
}

func (b *bits) skip(n int) {
	if n < 0 || n > 8*len(b.data)-b.at {
		b.short, b.at = true, 8*len(b.data)
		return
	}
	b.at += n
}

// ue reads an Exp-Golomb number (H.265, 9.2), up to 2^30; larger ones are no
// sense anywhere and end the reading.
func (b *bits) ue() int {
	zeros := 0
	for !b.flag() {
		if zeros++; b.short || zeros > 30 {
			b.short = true
			return 0
		}
	}
	return 1<<zeros - 1 + b.bits(zeros)
}

// ues passes over n of them.
func (b *bits) ues(n int) {
	for range n {
		b.ue()
	}
}

// skipScalingLists passes over scaling_list_data (H.265, 7.3.4).
func skipScalingLists(b *bits) {
	for size := range 4 {
		step := 1
		if size == 3 {
			step = 3
		}
		for matrix := 0; matrix < 6; matrix += step {
			switch {
			case !b.flag():
				b.ue()
				continue
			case size > 1:
				b.ue()
			}
			b.ues(min(64, 1<<(4+2*size)))
		}
	}
}

// skipReferenceSets passes over the short-term reference picture sets (H.265,
// 7.3.7), of which there are 64 at most.
func skipReferenceSets(b *bits) {
	count := b.ue()
	if count > 64 {
		b.short = true
	}
	var deltas [65]int
	for k := 0; k < count && !b.short; k++ {
		if k > 0 && b.flag() {
			deltas[k] = skipPredictedSet(b, deltas[k-1])
			continue
		}
		negative, positive := b.ue(), b.ue()
		if negative > 16 || positive > 16 {
			b.short = true
			return
		}
		for range negative + positive {
			b.ue()
			b.skip(1)
		}
		deltas[k] = negative + positive
	}
}

// skipPredictedSet passes over a set that is told by the one before and gives
// the number of its pictures.
func skipPredictedSet(b *bits, before int) (count int) {
	b.skip(1)
	b.ue()
	for range before + 1 {
		used := b.flag()
		if !used {
			used = b.flag() // a second flag follows only then
		}
		if used {
			count++
		}
	}
	return count
}

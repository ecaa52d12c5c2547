package photo

// upright maps places of the upright photo to places of the stored one: column = xu*u
// + xv*v + x0 and row = yu*u + yv*v + y0.
type upright struct{ xu, xv, x0, yu, yv, y0 int }

// turned returns the map for an Exif orientation (CIPA DC-008, tag 0x0112) of a
// stored picture of w by h pixels. Orientations 5 to 8 swap width and height.
func turned(orientation, w, h int) upright {
	right, bottom := w-1, h-1
	switch orientation {
	case 2:
		return upright{-1, 0, right, 0, 1, 0}
	case 3:
		return upright{-1, 0, right, 0, -1, bottom}
	case 4:
		return upright{1, 0, 0, 0, -1, bottom}
	case 5:
		return upright{0, 1, 0, 1, 0, 0}
	case 6:
		return upright{0, 1, 0, -1, 0, bottom}
	case 7:
		return upright{0, -1, right, -1, 0, bottom}
	case 8:
		return upright{0, -1, right, 1, 0, 0}
	}
	return upright{1, 0, 0, 0, 1, 0}
}

// stored returns the stored place of upright pixel (u, v).
func (t upright) stored(u, v int) (x, y int) {
	return t.xu*u + t.xv*v + t.x0, t.yu*u + t.yv*v + t.y0
}

// swaps reports whether an orientation swaps width and height.
func swaps(orientation int) bool { return orientation >= 5 && orientation <= 8 }

// after is the map for a picture that a further step made of this one.
func (t upright) after(step upright) upright {
	return upright{
		t.xu*step.xu + t.xv*step.yu, t.xu*step.xv + t.xv*step.yv, t.xu*step.x0 + t.xv*step.y0 + t.x0,
		t.yu*step.xu + t.yv*step.yu, t.yu*step.xv + t.yv*step.yv, t.yu*step.x0 + t.yv*step.y0 + t.y0,
	}
}

// orientation is the Exif orientation with the same turn and mirroring.
func (t upright) orientation() int {
	for n := 1; n <= 8; n++ {
		u := turned(n, 0, 0)
		if u.xu == t.xu && u.xv == t.xv && u.yu == t.yu && u.yv == t.yv {
			return n
		}
	}
	return 0
}

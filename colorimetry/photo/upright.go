package photo

// upright maps places of the upright photo to the stored one: column =
// xu*u + xv*v + x0 and row = yu*u + yv*v + y0.
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

// swaps tells whether an orientation swaps width and height.
func swaps(orientation int) bool { return orientation >= 5 && orientation <= 8 }

package photo

import "fmt"

// NotPhotoError says that the bytes are no photo that this package reads. Found names
// what they are, as far as the first bytes show it.
type NotPhotoError struct {
	Found  string
	Advice string
}

func (e *NotPhotoError) Error() string { return e.Found + ": " + e.Advice }

// UnsupportedError says that the file is a valid photo of a kind that is not read.
type UnsupportedError struct {
	What   string
	Advice string
}

func (e *UnsupportedError) Error() string { return e.What + ": " + e.Advice }

// BrokenError says that the file is damaged or cut short. Err is the fault that the
// decoder met, if it met one.
type BrokenError struct {
	Format string // as in [Facts]
	Why    string
	Err    error
}

func (e *BrokenError) Error() string {
	s := "the " + e.Format + " photo is damaged or cut short (" + e.Why + "): send it again"
	return s
}

// Unwrap returns the fault that the decoder met.
func (e *BrokenError) Unwrap() error { return e.Err }

// TooLargeError says that a photo asks for more than the limits allow.
type TooLargeError struct {
	What      string // "pixels" or "bytes"
	Have, Max int64
	// Width and Height are the header's, when What is "pixels".
	Width, Height int64
}

func (e *TooLargeError) Error() string {
	if e.What == "pixels" {
		return fmt.Sprintf("the photo is too large: %d x %d is %.1f megapixels, the limit is %.1f: make it smaller or raise the limit",
			e.Width, e.Height, float64(e.Have)/1e6, float64(e.Max)/1e6)
	}
	return fmt.Sprintf("the photo is too large: %d bytes, the limit is %d: make it smaller or raise the limit", e.Have, e.Max)
}

// OutsideError says that a region does not lie wholly within the photo.
type OutsideError struct {
	MinX, MinY, MaxX, MaxY float64 // the region's bounds, upright pixels
	Width, Height          int     // the upright photo
}

func (e *OutsideError) Error() string {
	return fmt.Sprintf(
		"the region from (%.1f, %.1f) to (%.1f, %.1f) lies outside the photo of %d x %d pixels: mark it within the upright photo",
		e.MinX,
		e.MinY,
		e.MaxX,
		e.MaxY,
		e.Width,
		e.Height,
	)
}

// NotWantedError says that a region was not asked for when the photo was decoded, so
// that its pixels may never have been read.
type NotWantedError struct {
	MinX, MinY, MaxX, MaxY float64 // the region's bounds, upright pixels
}

func (e *NotWantedError) Error() string {
	return fmt.Sprintf(
		"the region from (%.1f, %.1f) to (%.1f, %.1f) was left out when the photo was decoded: decode the photo with it, or whole",
		e.MinX,
		e.MinY,
		e.MaxX,
		e.MaxY,
	)
}

// TooSmallError says that a region has too few pixels when the margin at its edge is
// left out.
type TooSmallError struct {
	X, Y   float64 // the region's middle
	Pixels int     // usable pixels
	Inset  float64 // margin kept from the edge, pixels
}

func (e *TooSmallError) Error() string {
	return fmt.Sprintf(
		"the region at (%.1f, %.1f) is too small: %d pixels are left %.1f inside its edge, at least %d are needed: mark a larger "+
			"area or take the photo closer",
		e.X,
		e.Y,
		e.Pixels,
		e.Inset,
		minPixels,
	)
}

// TransparentError says that a region holds pixels that are wholly transparent.
type TransparentError struct {
	X, Y  float64 // the region's middle
	Share float64 // of its pixels, 0-1
}

func (e *TransparentError) Error() string {
	return fmt.Sprintf(
		"the region at (%.1f, %.1f) is transparent in %.0f %% of its pixels and has no colour there: mark another area or use the original photo",
		e.X,
		e.Y,
		100*e.Share,
	)
}

// MixedError says that a region holds several colours, and that most of it is not near
// to any one of them in both brightness and colour.
type MixedError struct {
	X, Y float64 // the region's middle
}

func (e *MixedError) Error() string {
	return fmt.Sprintf("the region at (%.1f, %.1f) holds several colours and no main one: mark an area of one colour", e.X, e.Y)
}

// NoColourError says that no part of the whole photo has colour.
type NoColourError struct{}

// Code is the fault's name among the codes of what makes a photo doubtful.
func (*NoColourError) Code() string { return "no-colour" }

func (*NoColourError) Error() string {
	return "the photo is without colour: use the photo as the camera stored it, not a grey copy"
}

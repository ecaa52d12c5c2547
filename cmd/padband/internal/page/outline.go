package page

import (
	"context"
	"encoding/json"
	"image"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/outlined"
)

// foundPixels is the most that is kept of a photo to look for outlines in.
const foundPixels = 1_800_000

// outline looks for the strip, the chart's swatches and white in the small picture that
// was made when the photo came; the photo is not decoded for it.
func (s *Page) outline(ctx context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	var in struct {
		Chart   json.RawMessage `json:"chart"`
		Earlier *shotWork       `json:"earlier"` // another photo of the strip, whose marks were looked at
	}
	if err := c.Take(&in); err != nil {
		return hosted.Refuse(err)
	}
	chart, err := charts.ParseChart(in.Chart)
	if err != nil {
		return hosted.Refuse(err)
	}
	leave, err := s.photos.enter(ctx, s.photos.readings)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	out, err := o.outlined(s.finder(in.Earlier), chart).JSON(o.name)
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(json.RawMessage(out))
}

// Carrier looks for outlines with what an earlier photo of the same strip and chart tells,
// as [outline.Carry] does.
type Carrier func(seen image.Image, width, height int, chart charts.Chart, earlier outline.Earlier) outline.Outline

// finder looks for outlines as they are in an earlier photo of the strip, where there is
// one that is still open.
func (s *Page) finder(earlier *shotWork) outlined.Finder {
	if earlier == nil || s.config.Carry == nil || s.config.Find == nil {
		return s.config.Find
	}
	o, err := s.shot(earlier.ID)
	if err != nil {
		return s.config.Find
	}
	marks, err := charts.ParseMarks(earlier.Marks)
	if err != nil || marks.Unchecked || len(marks.Regions) == 0 ||
		marks.CheckPhoto(o.photo.Width, o.photo.Height, o.photo.Facts.SHA256) != nil {
		return s.config.Find
	}
	from := outline.Earlier{Marks: marks, Width: o.photo.Width, Height: o.photo.Height, Seen: o.preview.picture}
	return func(seen image.Image, width, height int, chart charts.Chart) outline.Outline {
		return s.config.Carry(seen, width, height, chart, from)
	}
}

// outlined is what a finder finds in the photo; nothing where there is none.
func (o *opened) outlined(find outlined.Finder, chart charts.Chart) outlined.Outlined {
	ref := charts.PhotoRef{Width: o.photo.Width, Height: o.photo.Height, SHA256: o.photo.Facts.SHA256}
	if find == nil || o.preview.picture == nil {
		return outlined.Of(outline.Outline{}, ref, chart)
	}
	return outlined.Of(find(o.preview.picture, ref.Width, ref.Height, chart), ref, chart)
}

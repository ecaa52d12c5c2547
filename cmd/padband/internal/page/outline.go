package page

import (
	"context"
	"encoding/json"

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
		Chart json.RawMessage `json:"chart"`
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
	out, err := o.outlined(s.config.Find, chart).JSON(o.name)
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(json.RawMessage(out))
}

// outlined is what a finder finds in the photo; nothing where there is none.
func (o *opened) outlined(find outlined.Finder, chart charts.Chart) outlined.Outlined {
	ref := charts.PhotoRef{Width: o.photo.Width, Height: o.photo.Height, SHA256: o.photo.Facts.SHA256}
	if find == nil || o.preview.picture == nil {
		return outlined.Of(outline.Outline{}, ref, chart)
	}
	return outlined.Of(find(o.preview.picture, ref.Width, ref.Height, chart), ref, chart)
}

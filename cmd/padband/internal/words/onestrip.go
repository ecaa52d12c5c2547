package words

import (
	"errors"
	"fmt"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// AfterDip says how long after the dip a photo was taken.
func AfterDip(seconds float64) string { return span(seconds) + " after the dip" }

// span is a time in seconds up to ten minutes, and then in minutes or hours.
func span(seconds float64) string {
	switch {
	case seconds < 600:
		return fmt.Sprintf("%.0f s", seconds)
	case seconds < 2*3600:
		return fmt.Sprintf("%.0f minutes", seconds/60)
	}
	return fmt.Sprintf("%.0f hours", seconds/3600)
}

// TakenOfStrip tells by the clock when a photo of a strip was taken, and how long after
// its dip, where that is known.
func TakenOfStrip(taken string, seconds float64, known bool) string {
	const day, clock = len("2006-01-02T"), len("2006-01-02T15:04:05")
	if len(taken) < clock {
		return "when it was taken is not known"
	}
	text := "taken " + taken[day:clock]
	switch {
	case !known:
	case seconds < 0:
		text += ", " + span(-seconds) + " before the dip"
	default:
		text += ", " + AfterDip(seconds)
	}
	return text
}

// NotOfStrip says why a photo is left out of the one answer of its strip.
func NotOfStrip(name string, unchecked bool) string {
	if unchecked {
		return "Nobody has looked at the outlines of " + name + " yet: it is left out of this answer."
	}
	return "No pad is marked whole in " + name + " yet: it is left out of this answer."
}

// ShotOfStrip tells of one photo of a strip: its name, when it was taken, and what was
// said of its light and of the water.
func ShotOfStrip(t strip.Timed, file string) string {
	taken := t.Photo.Facts.Taken
	if taken == "" {
		taken = t.Marks.Sample.Taken
	}
	text := file + ", taken " + Moment(taken) + ", " + AfterDip(t.Seconds)
	if said := AsSaid(t.Marks.Sample, t.Light); said != "" {
		text += ". " + said
	}
	return text
}

// Picked says which photo of a strip a pad is read from, and whether that is in time;
// files are the names of the photos of [strip.Joined], in its order.
func Picked(j *strip.Joined, i int, files []string) (out []string) {
	p, a := j.Picks[i], j.Readings[i].Analyte
	from := files[p.Photo] + ", taken " + AfterDip(j.Photos[p.Photo].Seconds)
	switch {
	case a.ReadWindow == nil:
		out = append(out, "From "+from+". The chart gives no time for this pad, so it is read from the first photo that shows it; "+
			"see the maker's sheet.")
	case p.InTime:
		out = append(out, "From "+from+"; this pad is read at "+window(a)+".")
	default:
		out = append(out, "No photo is in time for this pad, which is read at "+window(a)+". From the nearest: "+from+".")
	}
	if len(p.Passed) > 0 {
		var passed []string
		for _, k := range p.Passed {
			passed = append(passed, files[k])
		}
		out = append(out, "Nearer in time, but not to be used for this pad: "+lines.List(passed)+".")
	}
	return out
}

// window is an analyte's read window: "45 to 75 s".
func window(a charts.Analyte) string {
	return lines.Plain(a.ReadWindow[0]) + " to " + lines.Plain(a.ReadWindow[1]) + " s"
}

// OneStripMeaning says what an answer from several photos of one strip is.
const OneStripMeaning = "The photos are taken for photos of one strip. Each reading rests on one of them alone; pads go on changing, and " +
	"a photo out of time does not mend one in time."

// NotOneStrip says why photos cannot be read as photos of one strip, and what to do, as
// an error is told; files are their names in the order of the results. Another error
// stays as it is.
func NotOneStrip(err error, files []string) error {
	var e *strip.OneStripError
	if !errors.As(err, &e) {
		return err
	}
	var names []string
	for _, i := range e.Photos {
		names = append(names, files[i])
	}
	of := lines.List(names)
	switch e.Fault {
	case strip.TooFew:
		return errors.New("one photo of a strip has nothing to be joined with; name two photos or more")
	case strip.SamePhoto:
		return fmt.Errorf("%s are the same photo; name each photo once", of)
	case strip.OtherChart:
		if e.Values[0] == e.Values[1] {
			return fmt.Errorf("%s show charts of one name, %q, that differ; read them with one chart file", of, e.Values[0])
		}
		return fmt.Errorf("%s show different charts, %q and %q; name photos of one strip", of, e.Values[0], e.Values[1])
	case strip.OtherSaid:
		return fmt.Errorf("the marks of %s give %s as %q and as %q, and one strip has one; correct it, or name photos of one strip",
			of, saidName(e.Said), e.Values[0], e.Values[1])
	case strip.NotDipped:
		return errors.New("when the strip was dipped is not known, nor so which photo is in time for a pad; " +
			"give the time of the dip in the marks of one photo (sample.dipped)")
	case strip.NotTimed:
		return fmt.Errorf("when %s was taken is not known: the photo holds no time; give it in its marks (sample.taken)", of)
	case strip.BeforeDip:
		return fmt.Errorf("%s was taken %s before the dip that the marks give; correct the time of the dip, or leave that photo out",
			of, span(-e.Seconds))
	}
	return err
}

// saidName names a field of the sample as a person knows it, with its place in the file.
func saidName(field string) string {
	names := map[string]string{
		"dipped": "the time of the dip", "strip": "the strip", "kit.lot": "the kit's lot", "kit.expires": "the kit's date",
		"kit.opened": "the day on which the kit was opened", "dilution": "the dilution", "water": "the look of the water",
	}
	return names[field] + " (sample." + field + ")"
}

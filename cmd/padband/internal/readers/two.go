package readers

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"padband/calib/agreement"
)

// Against compares the one reading that another method's value can be of. The
// error says of the value what is wrong with it.
func Against(all []agreement.Single, value agreement.Against) ([]agreement.Gap, error) {
	var gaps []agreement.Gap
	var names []string
	var whys []error
	for _, a := range all {
		b, err := value.For(a)
		if err != nil {
			whys = append(whys, err)
			continue
		}
		gaps, names = append(gaps, agreement.Between(a, b, agreement.ByReference)), append(names, a.Analyte)
	}
	switch {
	case len(gaps) == 0:
		return nil, fmt.Errorf("fits none of the readings: %w", whys[0])
	case len(gaps) > 1:
		return nil, fmt.Errorf("may be of %s; put the name before it, such as \"%s %s\"", strings.Join(names, " or "), names[0], value.Text)
	}
	return gaps, nil
}

// Two compares the analytes that both files have; notes name the others. known is
// what is known of two photos: [agreement.OneStrip], [agreement.TwoStrips], or
// nothing. Two answers from several photos that have one in common are of one strip. The
// errors are [ErrOnePhoto], [ErrOneStrip], [ErrTwoPhotos] and that there is nothing to
// compare.
func Two(a, all []agreement.Single, known agreement.Relation) (gaps []agreement.Gap, notes []string, err error) {
	var left []string
	for _, x := range a {
		y, why := partner(x, all)
		if why != "" {
			left = append(left, x.Analyte+": "+why)
			continue
		}
		r, err := relation(x, y, known)
		if err != nil {
			return nil, nil, err
		}
		gaps = append(gaps, agreement.Between(x, y, r))
	}
	if len(gaps) == 0 {
		return nil, nil, fmt.Errorf("the two files have no reading to compare; %s", left[0])
	}
	for _, l := range left {
		notes = append(notes, "Not compared: "+l+".")
	}
	return gaps, notes, nil
}

// partner is the reading of the same analyte, in the same unit, or why there is none.
// Units are not converted: two readings of one chart have the same.
func partner(x agreement.Single, all []agreement.Single) (agreement.Single, string) {
	for _, y := range all {
		if !strings.EqualFold(x.Analyte, y.Analyte) {
			continue
		}
		if x.Unit != y.Unit || x.As != y.As {
			return y, fmt.Sprintf("one is in %s, the other in %s", agreement.UnitText(x.Unit, x.As), agreement.UnitText(y.Unit, y.As))
		}
		return y, ""
	}
	return agreement.Single{}, "the second file does not read it"
}

// Errors of what is known of two photos.
var (
	ErrOnePhoto  = errors.New("both readings are of one photo, which shows one strip")
	ErrOneStrip  = errors.New("a photo is in both readings, so that both are of one strip")
	ErrTwoPhotos = errors.New("the readings are of two photos; say whether they show one strip or two")
)

// relation says what two readings share: the photo's hash tells one photo, and a photo
// that both files have tells one strip; what other photos show has to be known.
func relation(a, b agreement.Single, known agreement.Relation) (agreement.Relation, error) {
	same := a.Photo != "" && a.Photo == b.Photo
	shared := slices.ContainsFunc(a.Photos, func(sum string) bool { return sum != "" && slices.Contains(b.Photos, sum) })
	switch {
	case shared && known == agreement.TwoStrips && max(len(a.Photos), len(b.Photos)) > 1:
		return "", ErrOneStrip
	case !same && shared:
		return agreement.OneStrip, nil
	case same && known == agreement.TwoStrips:
		return "", ErrOnePhoto
	case same:
		return agreement.SamePhoto, nil
	case known == "":
		return "", ErrTwoPhotos
	}
	return known, nil
}

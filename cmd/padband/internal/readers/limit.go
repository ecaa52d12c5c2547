package readers

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"padband/calib/agreement"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

// LimitFor turns a limit as it is written into what each analyte's calls are held
// against on a day, in the calls' own unit; nil for an empty text. A bare number is
// in the unit of calls that have none.
func LimitFor(text string, day time.Time) (func(string, units.Unit) (*agreement.Limit, error), error) {
	if text == "" {
		return nil, nil
	}
	if v, err := strconv.ParseFloat(text, 64); err == nil && v > 0 && !math.IsInf(v, 0) {
		return func(analyte string, unit units.Unit) (*agreement.Limit, error) {
			if unit.Name != "" {
				return nil, fmt.Errorf("the limit %s has no unit, and the calls are in %s; write %s %s", text, unit, text, unit)
			}
			return &agreement.Limit{Low: math.Inf(-1), High: v, Name: text}, nil
		}, nil
	}
	choice, err := limits.ParseLimit(text)
	if err != nil {
		return nil, err
	}
	return func(analyte string, unit units.Unit) (*agreement.Limit, error) {
		a := charts.Analyte{Name: analyte, Unit: unit.Name, As: unit.As}
		for _, l := range choice.For(a, day) {
			if len(l.Classes) == 0 {
				return inUnit(l, a)
			}
		}
		return nil, nil
	}, nil
}

// inUnit converts a limit into the unit of an analyte.
func inUnit(l limits.Limit, a charts.Analyte) (*agreement.Limit, error) {
	f, err := units.Factor(a.Name, l.Unit, a.Measure())
	if err != nil {
		return nil, err
	}
	out := agreement.Limit{Low: math.Inf(-1), High: f.Of(l.Value), Name: l.Text()}
	if l.TwoSided() {
		out.Low, out.High = f.Of(l.Low), f.Of(l.High)
	}
	if l.Kind != limits.LimitGiven && l.Set != "" {
		out.Whose = l.Whose()
	}
	return &out, nil
}

// NoLimitError is the error of a limit that none of the analytes compared has.
type NoLimitError struct{ Analyte string }

func (e *NoLimitError) Error() string {
	return fmt.Sprintf("has no limit for %s; write the limit itself, such as \"10 mg/L as N\"", e.Analyte)
}

// CheckLimit is the error of a limit, as it is written, that was asked for and
// that none of the analytes has: a [*NoLimitError], or what else is wrong with it.
func CheckLimit(text string, all []agreement.Comparison) error {
	var of []charts.Analyte
	for _, c := range all {
		if text == "" || c.Limit != nil {
			return nil
		}
		of = append(of, charts.Analyte{Name: c.Analyte, Unit: c.Unit, As: c.As})
	}
	if choice, err := limits.ParseLimit(text); err == nil {
		if err := choice.Check(of); err != nil {
			return err
		}
	}
	return &NoLimitError{all[0].Analyte}
}

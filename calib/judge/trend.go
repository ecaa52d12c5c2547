package judge

import (
	"math"

	"padband/calib"
)

// TrendPoint is one reading of a series in order of time, all in one unit.
type TrendPoint struct {
	Value           float64    // past an end of the chart it is that end's value
	Band, WaterBand calib.Band // an end that lies past the chart is open
	// Source names the kit lot and the chart: readings of one source share its error.
	// It is empty when the lot is not known; such a reading is a source of its own.
	Source string
}

// TrendWord is what a series shows, in a word or two.
type TrendWord string

// These words hold at the 5 % level, two-sided.
const (
	Rising   TrendWord = "rising"
	Falling  TrendWord = "falling"
	NoChange TrendWord = "no change shown" // this does not mean that nothing changed
	TooFew   TrendWord = "too few records" // no order of them could show a change
)

// trendLevel is the share of false alarms that is allowed.
const trendLevel = 0.05

// TrendResult is what the test found.
type TrendResult struct {
	Word             TrendWord
	Records, Sources int // Sources: lots and charts, each unknown lot one
	// Up, Down and Open are pairs of records: those whose later one is higher or
	// lower with 95 % probability by the bands, and those that the bands leave open.
	Up, Down, Open int
	Tau            float64 // mean score of all pairs, from -1 to 1
	P              float64 // two-sided; 1 when no pair is settled at all
	LeastP         float64 // the least P that so many records of so many sources can have
	Exact          bool    // every order was counted; else the normal approximation
	Mixed          bool    // the sources alternate in time, so only pairs within them were tested
}

// MannKendall tests a series in order of time for a trend: the test of Mann
// (1945) and Kendall (1975) with three changes for readings of strips.
//
// A pair of readings does not score the sign of their difference but how surely that
// sign is known: 2 P - 1, where P is the probability that the later one is higher (as
// Efron, 1967, scores censored times), in tenths. Within a source P comes from the
// bands of reading the colours, between sources from the water bands; both are taken
// as normal with the half-widths that face each other. A pair with an open end between
// its values scores zero, and so do two readings past one end.
//
// Readings of one source share its error, so they are not exchanged one by one with
// those of another source. The score's distribution is that of all orders within each
// source, and of all orders of the sources as a whole. The test then holds whatever
// the sources' errors are.
//
// Two scores are tested: the one within the sources alone, and the one of all pairs.
// The smaller P counts and is doubled. Where there is one source, or each has one
// record, the two tests are one and nothing is doubled. Where the sources alternate in
// time, only the score within the sources is tested.
//
// Distributions are exact for 20 records at most, in up to ten sources of up to
// ten records; else normal with Kendall's correction for continuity and the exact
// variance. The records must be independent otherwise: seasons are not allowed
// for. Five records of one source, or of five, are the least that can show a
// change at 5 %. (Sources from memory: Mann, Econometrica 13, 245; Kendall, Rank
// Correlation Methods, 4th edition; Efron, 5th Berkeley Symposium 4, 831.)
func MannKendall(points []TrendPoint) TrendResult {
	s := newSeries(points)
	r := TrendResult{Records: len(points), Sources: len(s.blocks), Mixed: s.mixed, P: 1, LeastP: 1}
	pairs := s.count(&r)
	if pairs == 0 {
		r.Word = TooFew
		return r
	}
	r.Tau = float64(s.total) / tenths / float64(pairs)
	score := s.test(&r)
	switch {
	case !(r.LeastP <= trendLevel):
		r.Word = TooFew
	case !(r.P <= trendLevel+1e-9) || score == 0: // 6 of 120 orders are 5 %
		r.Word = NoChange
	case score > 0:
		r.Word = Rising
	default:
		r.Word = Falling
	}
	return r
}

// tenths is how many parts of a whole score are counted.
const tenths = 10

// score says how surely the later of two readings is the higher: 10 surely, -10
// surely lower, 0 when it cannot be told.
func (a TrendPoint) score(b TrendPoint) int8 {
	x, y := a.Band, b.Band
	if a.Source != b.Source || a.Source == "" {
		x, y = a.WaterBand, b.WaterBand
	}
	if (a.Source == "" || b.Source == "") && overlap(x, y) {
		return 0
	}
	d := b.Value - a.Value
	if d < 0 {
		return -b.facing(y, x, a.Value, -d)
	}
	return a.facing(x, y, b.Value, d)
}

// overlap reports whether two bands have a value in common, or may have one past an
// end of a chart.
func overlap(a, b calib.Band) bool {
	below := !a.High.Open && !b.Low.Open && a.High.Value < b.Low.Value
	above := !a.Low.Open && !b.High.Open && b.High.Value < a.Low.Value
	return !below && !above
}

// facing scores a reading that has the band x against a higher one that has the band
// y.
func (a TrendPoint) facing(x, y calib.Band, higher, d float64) int8 {
	if !(d > 0) || x.High.Open || y.Low.Open {
		return 0
	}
	half := math.Hypot(math.Max(0, x.High.Value-a.Value), math.Max(0, higher-y.Low.Value))
	return int8(math.Round(tenths * math.Erf(d/half*normal95/math.Sqrt2))) // half 0: surely
}

// normal95 is the normal distribution's two-sided 95 % quantile.
const normal95 = 1.959964

// count counts the pairs by what the bands say of them.
func (s *series) count(r *TrendResult) (pairs int) {
	for i := range s.scores {
		for _, v := range s.scores[i][i+1:] {
			s.total += int(v)
			pairs++
			switch {
			case float64(v) >= tenths*calib.Coverage:
				r.Up++
			case float64(v) <= -tenths*calib.Coverage:
				r.Down++
			default:
				r.Open++
			}
		}
	}
	return pairs
}

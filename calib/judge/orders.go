package judge

import (
	"math"
	"math/bits"
	"slices"
)

// series is a series of readings with the scores of its pairs.
type series struct {
	scores [][]int8 // [i][j] is the score of reading i with the later j; [j][i] is its negative
	blocks [][]int  // the readings of each source, in order of time
	mixed  bool     // a source comes back after another one
	total  int      // of all pairs, in order
}

func newSeries(points []TrendPoint) series {
	s := series{scores: make([][]int8, len(points))}
	at := map[string]int{}
	for i, p := range points {
		s.scores[i] = make([]int8, len(points))
		b, known := at[p.Source]
		if !known || p.Source == "" {
			b = len(s.blocks)
			s.blocks = append(s.blocks, nil)
			at[p.Source] = b
		}
		s.mixed = s.mixed || known && p.Source != "" && s.blocks[b][len(s.blocks[b])-1] != i-1
		s.blocks[b] = append(s.blocks[b], i)
	}
	for i, a := range points {
		for j := i + 1; j < len(points); j++ {
			v := a.score(points[j])
			s.scores[i][j], s.scores[j][i] = v, -v
		}
	}
	return s
}

// test fills in the probabilities, and returns the score to which they belong.
func (s series) test(r *TrendResult) int {
	within, all := s.parts()
	inside, whole := newOrders(within, r.Records), newOrders(all, r.Records)
	single := len(s.blocks) == 1
	alone := len(s.blocks) == r.Records
	switch {
	case single || s.mixed:
		r.P, r.LeastP, r.Exact = inside.p(), inside.leastP(), inside.exact
		return inside.score
	case alone:
		r.P, r.LeastP, r.Exact = whole.p(), whole.leastP(), whole.exact
		return whole.score
	}
	r.LeastP = math.Min(1, 2*math.Min(inside.leastP(), whole.leastP()))
	r.Exact = inside.exact && whole.exact
	p, q := inside.p(), whole.p()
	r.P = math.Min(1, 2*math.Min(p, q))
	if p < q {
		return inside.score
	}
	return whole.score
}

// table holds scores of pairs: of the reading or source i with the later j.
type table struct {
	n  int
	at func(i, j int) int
}

// parts splits the scores into tables whose orders are independent: within has one
// table for the readings of each source, and all has one more for the sources as a
// whole.
func (s series) parts() (within, all []table) {
	between := make([][]int, len(s.blocks))
	for a, x := range s.blocks {
		within = append(within, table{len(x), func(i, j int) int { return int(s.scores[x[i]][x[j]]) }})
		between[a] = make([]int, len(s.blocks))
		for b, y := range s.blocks {
			if a != b {
				between[a][b] = s.sum(x, y)
			}
		}
	}
	return within, append(slices.Clone(within), table{len(between), func(i, j int) int { return between[i][j] }})
}

// sum adds up the scores of all readings of one source with all of another.
func (s series) sum(x, y []int) (sum int) {
	for _, i := range x {
		for _, j := range y {
			sum += int(s.scores[i][j])
		}
	}
	return sum
}

// orders is the distribution that the score of some tables has over all their orders.
type orders struct {
	score    int
	exact    bool
	tally    tally // when exact
	variance float64
	logCount float64 // logarithm of the number of orders
}

func newOrders(tables []table, records int) orders {
	o := orders{exact: records <= mostExactRecords, tally: tally{p: []float64{1}}}
	for _, t := range tables {
		score, v := t.moments()
		o.score += score
		o.variance += v
		lg, _ := math.Lgamma(float64(t.n) + 1)
		o.logCount += lg
		o.exact = o.exact && t.n <= mostExact
	}
	for _, t := range tables {
		if o.exact && t.n > 1 {
			o.tally = o.tally.plus(t.tally())
		}
	}
	return o
}

// mostExact is up to how many records or sources every order is counted (ten have 3.6
// million orders, counted by their 1,024 subsets); mostExactRecords caps the records
// of all sources together.
const (
	mostExact        = 10
	mostExactRecords = 20
)

// p is the two-sided probability of a score that lies as far from zero as this one, or
// further.
func (o orders) p() float64 {
	if o.score == 0 {
		return 1
	}
	score := max(o.score, -o.score)
	if !o.exact {
		z := (float64(score) - tenths) / math.Sqrt(o.variance) // Kendall's correction: 1 of S
		return math.Erfc(math.Max(0, z) / math.Sqrt2)
	}
	p := 0.0
	for i, share := range o.tally.p {
		if v := i - o.tally.zero; v >= score || v <= -score {
			p += share
		}
	}
	return math.Min(1, p)
}

// leastP is the least value that p can have: one order and its reverse out of all.
func (o orders) leastP() float64 { return math.Min(1, 2*math.Exp(-o.logCount)) }

// moments are the score of a table as it stands, and the variance of the score over
// all orders, which is Kendall's without ties and with. Two pairs that share a reading
// go the same way from it in two of three orders, so their covariance is a third of
// the product of their scores.
func (t table) moments() (score int, variance float64) {
	for i := range t.n {
		sum, squares := 0.0, 0.0
		for j := range t.n {
			v := t.at(i, j)
			if j > i {
				score += v
			}
			sum += float64(v)
			squares += float64(v) * float64(v)
		}
		variance += squares/2 + (sum*sum-squares)/3
	}
	return score, variance
}

// tally is a distribution of scores: p[zero+v] is the share of orders with the score
// v.
type tally struct {
	zero int
	p    []float64
}

// tally is the distribution of a table's score over all its orders. It goes through
// each set of readings that may stand first once, and puts each further reading behind
// that set.
func (t table) tally() tally {
	sets := make([]tally, 1<<t.n)
	sets[0] = tally{p: []float64{1}}
	for set := range len(sets) - 1 {
		t.further(sets, set)
		sets[set] = tally{}
	}
	return sets[len(sets)-1]
}

// further puts each reading that is not in the set behind the set, all with equal
// shares.
func (t table) further(sets []tally, set int) {
	from := sets[set]
	left := float64(t.n - bits.OnesCount(uint(set)))
	for next := range t.n {
		if set>>next&1 == 1 {
			continue
		}
		add, reach := 0, 0
		for i := range t.n {
			if set>>i&1 == 1 {
				v := t.at(i, next)
				add, reach = add+v, reach+max(v, -v)
			}
		}
		to := &sets[set|1<<next]
		if to.p == nil {
			*to = tally{from.zero + reach, make([]float64, len(from.p)+2*reach)}
		}
		for k, share := range from.p {
			if share > 0 {
				to.p[k-from.zero+to.zero+add] += share / left
			}
		}
	}
}

// plus is the distribution of the sum of two independent scores.
func (a tally) plus(b tally) tally {
	out := tally{a.zero + b.zero, make([]float64, len(a.p)+len(b.p)-1)}
	for i, p := range a.p {
		for j, q := range b.p {
			out.p[i+j] += p * q
		}
	}
	return out
}

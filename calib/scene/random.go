package scene

import (
	"math"
	"math/rand/v2"
)

// dice draws numbers. Each part of a scene has its own stream of the seed, so
// that a change to one part leaves the others as they were.
type dice struct {
	*rand.Rand
	vary float64 // how widely dyes and inks vary; 0 stands for 1
}

// Streams of one seed.
const (
	streamPlan = iota + 1
	streamLight
	streamCamera
	streamReagent
	streamPrint
	streamSurface
	streamLayout
	streamPixels
	streamTexture
	streamLamp
)

func newDice(seed, stream uint64) dice {
	return dice{Rand: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15*stream))}
}

// in draws evenly from lo to hi.
func (d dice) in(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// inLog draws evenly in the logarithm, lo and hi positive.
func (d dice) inLog(lo, hi float64) float64 { return math.Exp(d.in(math.Log(lo), math.Log(hi))) }

// near draws from a normal distribution cut at 2.5 standard deviations.
func (d dice) near(mean, sd float64) float64 {
	return mean + sd*math.Max(-2.5, math.Min(2.5, d.NormFloat64()))
}

// one draws from lo to hi, both included.
func (d dice) one(lo, hi int) int { return lo + d.IntN(hi-lo+1) }

// chance is true with probability p.
func (d dice) chance(p float64) bool { return d.Float64() < p }

// pick draws one of a list.
func pick[T any](d dice, list []T) T { return list[d.IntN(len(list))] }

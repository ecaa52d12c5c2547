package table

import (
	"math"
	"math/rand/v2"
)

// dice draws numbers. Each part of a picture has its own stream of the seed.
type dice struct{ *rand.Rand }

// Streams of one seed.
const (
	streamPlan = iota + 1
	streamGround
	streamClutter
	streamPrint
	streamLight
	streamOther
	streamNoise
)

func newDice(seed, stream uint64) dice {
	return dice{rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15*stream))}
}

// in draws evenly from lo to hi.
func (d dice) in(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// inLog draws evenly in the logarithm, lo and hi positive.
func (d dice) inLog(lo, hi float64) float64 { return lo * math.Pow(hi/lo, d.Float64()) }

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

// weighed draws an index by weights.
func (d dice) weighed(weights ...float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	at := d.Float64() * sum
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// spot is a number from 0 to 1 that belongs to a whole place and a seed.
func spot(x, y int, seed uint32) float64 {
	h := uint32(x)*0x8da6b343 ^ uint32(y)*0xd8163841 ^ seed*0xcb1ab31f
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	h ^= h >> 15
	return float64(h) / (1 << 32)
}

// cloud is smooth noise from 0 to 1 with one knot a unit.
func cloud(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	i, j := int(fx), int(fy)
	x, y = x-fx, y-fy
	x, y = x*x*(3-2*x), y*y*(3-2*y)
	top := spot(i, j, seed)*(1-x) + spot(i+1, j, seed)*x
	low := spot(i, j+1, seed)*(1-x) + spot(i+1, j+1, seed)*x
	return top*(1-y) + low*y
}

// clouds adds up octaves of smooth noise, each half as high and as wide as the one before.
func clouds(x, y float64, octaves int, seed uint32) float64 {
	sum, high := 0.0, 0.5
	for i := range octaves {
		sum += high * cloud(x, y, seed+uint32(i)*17)
		x, y, high = 2*x, 2*y, high/2
	}
	return sum / (1 - math.Pow(0.5, float64(octaves)))
}

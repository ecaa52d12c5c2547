package batch

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
)

// read takes from 0 to 9 ms of the test's own clock.
func slow(p Photo) Row {
	time.Sleep(time.Duration(rand.IntN(10)) * time.Millisecond)
	return Row{Data: []byte(p.File), Outcome: Good}
}

// Rows come in the photos' order whatever the photos take, and no more photos
// are held than there are jobs.
func TestRunKeepsOrder(t *testing.T) {
	for _, jobs := range []int{1, 2, 7} {
		synctest.Test(t, func(t *testing.T) {
			var held, most atomic.Int64
			var got []string
			err := Run(t.Context(), numbered(300), jobs, func(p Photo) Row {
				n := held.Add(1)
				defer held.Add(-1)
				for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
				}
				return slow(p)
			}, func(r Row) error {
				got = append(got, string(r.Data))
				return nil
			})
			assert.NoError(t, err)
			assert.Equal(t, called(numbered(300)), got)
			assert.EqualValues(t, jobs, most.Load())
		})
	}
}

// Jobs share the time: eight photos of a second each take one, four or eight.
func TestRunSharesTheTime(t *testing.T) {
	for _, jobs := range []int{1, 2, 8} {
		synctest.Test(t, func(t *testing.T) {
			begun := time.Now()
			assert.NoError(t, Run(t.Context(), numbered(8), jobs, func(Photo) Row {
				time.Sleep(time.Second)
				return Row{}
			}, func(Row) error { return nil }))
			assert.Equal(t, time.Duration(8/jobs)*time.Second, time.Since(begun))
		})
	}
}

// One photo that takes long lets the others go on, but their rows do not pile up.
func TestRunWaitsForASlowPhoto(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var reads atomic.Int64
		done := make(chan error)
		gate := make(chan bool)
		go func() {
			done <- Run(t.Context(), numbered(1000), 2, func(p Photo) Row {
				if p.File == "0" {
					<-gate
				}
				reads.Add(1)
				return Row{}
			}, func(Row) error { return nil })
		}()
		synctest.Wait()
		assert.LessOrEqual(t, reads.Load(), int64(2*ahead+2))
		assert.Greater(t, reads.Load(), int64(ahead))
		close(gate)
		assert.NoError(t, <-done)
		assert.EqualValues(t, 1000, reads.Load())
	})
}

// An output that fails ends the run: no row is taken after it, few photos are read.
func TestRunStopsWhenTheOutputFails(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		full := errors.New("full")
		var reads atomic.Int64
		taken := 0
		err := Run(t.Context(), numbered(1000), 3, func(p Photo) Row {
			reads.Add(1)
			return slow(p)
		}, func(Row) error {
			if taken++; taken == 5 {
				return full
			}
			return nil
		})
		assert.Equal(t, full, err)
		assert.Equal(t, 5, taken)
		assert.Less(t, reads.Load(), int64(200))
	})
}

// A run that is stopped takes the rows of the photos it holds, whole and in order.
func TestRunStops(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		var got []string
		err := Run(ctx, numbered(1000), 3, slow, func(r Row) error {
			if got = append(got, string(r.Data)); len(got) == 20 {
				stop()
			}
			return nil
		})
		assert.Equal(t, context.Canceled, err)
		assert.GreaterOrEqual(t, len(got), 20)
		assert.Less(t, len(got), 200)
		assert.Equal(t, strings.Join(called(numbered(len(got))), " "), strings.Join(got, " "))
	})
}

// Stopped when the last row is there already: the run is whole.
func TestRunStoppedAtItsEnd(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	n := 0
	assert.NoError(t, Run(ctx, numbered(4), 2, slow, func(Row) error {
		if n++; n == 4 {
			stop()
		}
		return nil
	}))
	assert.NoError(t, Run(t.Context(), nil, 2, slow, func(Row) error { return fmt.Errorf("a row of no photo") }))
}

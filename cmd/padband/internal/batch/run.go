package batch

import "context"

// ahead is how many rows a job may wait with for a slow photo before them.
const ahead = 32

// turn is a photo with the place where its row is awaited.
type turn struct {
	photo Photo
	row   chan Row
}

// Run calls read on the photos, on up to jobs of them at once, and take on each
// row in the photos' order, from one goroutine. At most jobs photos are held at a
// time. read must not panic. An error of take, or the end of ctx, stops the run:
// the photos being read are read to their end, and their rows are taken in the
// latter case. The error is take's or ctx's.
func Run(ctx context.Context, photos []Photo, jobs int, read func(Photo) Row, take func(Row) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	work, turns := make(chan turn), make(chan turn, ahead*jobs)
	go hand(ctx, photos, work, turns)
	for range jobs {
		go func() {
			for t := range work {
				t.row <- read(t.photo)
			}
		}()
	}
	taken := 0
	var failed error
	for t := range turns {
		row := <-t.row
		if failed == nil {
			failed = take(row)
			taken++
		}
		if failed != nil {
			stop()
		}
	}
	if failed != nil || taken == len(photos) {
		return failed
	}
	return ctx.Err()
}

// hand gives out the photos one by one until they or ctx end.
func hand(ctx context.Context, photos []Photo, work, turns chan<- turn) {
	defer close(turns)
	defer close(work)
	for _, p := range photos {
		if ctx.Err() != nil {
			return
		}
		t := turn{p, make(chan Row, 1)}
		turns <- t
		work <- t
	}
}

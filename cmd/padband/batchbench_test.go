package main

import (
	"fmt"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/batch"
)

// BenchmarkBatch reads the demo photo, of 3 megapixels, over and over: on two
// processors two jobs take half the time of one.
func BenchmarkBatch(b *testing.B) {
	for _, jobs := range []int{1, 2, 4} {
		b.Run(fmt.Sprintf("jobs=%d", jobs), func(b *testing.B) {
			rows := rowMaker{options: readOptions{megapixels: 200}, read: readOne}
			photos := make([]batch.Photo, b.N)
			for i := range photos {
				photos[i] = batch.Photo{Name: demo + "kitchen.jpg", File: "kitchen.jpg"}
			}
			b.ReportAllocs()
			b.ResetTimer()
			require.NoError(b, batch.Run(b.Context(), photos, jobs, rows.row, func(r batch.Row) error {
				_, err := io.Discard.Write(r.Data)
				require.Equal(b, batch.Good, r.Outcome, "%s", r.Data)
				return err
			}))
		})
	}
}

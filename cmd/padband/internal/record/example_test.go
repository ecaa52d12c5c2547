package record_test

import (
	"fmt"

	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
)

// A record is made in memory, verified, changed and verified again. The bytes are
// invented; a true record is made by [record.Made], which reads the photo.
func Example() {
	files, err := record.Make(record.Content{
		PhotoName: "tap.jpg", Photo: []byte("a photo's bytes"), Chart: []byte(`{"chart":"invented"}`),
		Marks: []byte(`{"format":1}`), Reading: []byte(`{"format":1}`),
		Facts: []bag.Fact{{Label: "Place", Value: "Mill Lane 7"}}, Day: "2026-11-14",
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	kept := record.Verify(bag.Memory(files), record.Options{})
	fmt.Println("faults:", kept.Faults())
	fmt.Println("place:", kept.Info.Get("Place"))

	for i, f := range files {
		if f.Name == "data/marks.json" {
			files[i].Data = []byte(`{"format":2}`)
		}
	}
	for _, f := range record.Verify(bag.Memory(files), record.Options{}).Findings {
		if f.Fault {
			fmt.Println(f)
		}
	}
	// Output:
	// faults: 0
	// place: Mill Lane 7
	// fault: data/marks.json: was changed: its sha256 and sha512 is not as the manifest has it
}

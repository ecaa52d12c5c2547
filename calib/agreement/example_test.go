package agreement_test

import (
	"fmt"
	"strings"

	"padband/calib/agreement"
)

// Two people call the same six strips; the second reads higher.
func ExampleCalls_Compare() {
	const file = "sample,reader,value\n" +
		"s1,Ann,1\ns2,Ann,3\ns3,Ann,7\ns4,Ann,12\ns5,Ann,3\ns6,Ann,7\n" +
		"s1,Bob,1\ns2,Bob,7\ns3,Bob,7\ns4,Bob,12\ns5,Bob,3\ns6,Bob,12\n"
	calls, err := agreement.Read(strings.NewReader(file))
	if err != nil {
		fmt.Println(err)
		return
	}
	compared, err := calls.Compare(agreement.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := compared[0]
	fmt.Println(c.Readers, len(c.Pairs), "pairs")
	fmt.Println(c.Raw.Count, "of", c.Raw.Of, "alike")
	fmt.Printf("mean difference %.1f\n", c.Differences.Bias.Value)
	// Output:
	// [Ann Bob] 6 pairs
	// 4 of 6 alike
	// mean difference -1.5
}

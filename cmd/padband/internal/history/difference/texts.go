package difference

// What stands on every page of two readings in the same words.
const (
	meantText = "The difference is the later reading minus the earlier, worked out from all that either reading leaves possible, and " +
		"its ranges are made to hold the true difference 95 times in 100: \"by the colours\" counts the errors of reading the " +
		"colours, \"in the water\" the strips' own errors too. \"Changed\" is said only when no change at all lies outside " +
		"what may be in the water. The two readings' errors are taken as independent. Two strips of one lot, or two photos " +
		"of one chart, err alike in part, so the ranges are wider than they need be."
	notMeantText = "\"Not shown to have changed\" does not mean that nothing changed: it may have changed by anything " +
		"that the range \"in the water\" holds. And a change shows that the two samples differ, not what made them differ."
)

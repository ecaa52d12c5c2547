package difference

// What stands on every page of two readings in the same words.
const (
	meantText = "The difference is the later reading minus the earlier, worked out from all that either reading leaves possible, and " +
		"its bands are made to hold the true difference 95 times in 100: the band by the errors of reading the colours, the " +
		"water band by the strips' own errors too. \"Changed\" is said only when zero lies outside the water band. The two " +
		"readings' errors are taken as independent; two strips of one lot or two photos of one chart err alike in part, for " +
		"which the bands are wider than they need be."
	notMeantText = "\"Not shown to have changed\" does not mean that nothing changed: it may have changed by anything " +
		"that the water band " +
		"holds. And a change shows that the two samples differ, not what made them differ."
)

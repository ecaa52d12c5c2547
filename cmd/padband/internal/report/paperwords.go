package report

// What stands on every page of its kind in the same words.
const (
	shownText = "It shows where on the printed chart's scale the pad's colour lay in this photo, and how far reading the colour may " +
		"be off. The band is made to hold what a perfect reader of this pad would say 95 times in 100; the water band counts " +
		"the strip's own error too, and what is decided about the water rests on that one."
	notShownText = "It cannot show whether the strip was sound, dipped and timed as its maker says, whether the water came from the " +
		"place named, or what the water is at another time. It says nothing of bacteria or of anything that the strip has no " +
		"pad for."
	cautionText = "A strip is a screening test. Have a certified laboratory confirm what matters to health, to money or in a dispute. " +
		"Ask the local health authority what a result means for drinking. Local codes and licensed practice decide what is " +
		"done to pipes and treatment."
	meantText = "The difference is the later reading minus the earlier, worked out from all that either reading leaves possible, and " +
		"its bands are made to hold the true difference 95 times in 100: the band by the errors of reading the colours, the " +
		"water band by the strips' own errors too. \"Changed\" is said only when zero lies outside the water band. The two " +
		"readings' errors are taken as independent; two strips of one lot or two photos of one chart err alike in part, for " +
		"which the bands are wider than they need be."
	notMeantText = "\"Not shown to have changed\" does not mean that nothing changed: it may have changed by anything that the water band " +
		"holds. And a change shows that the two samples differ, not what made them differ."
	dayText = "A signature proves who signed, not when, and the signer could make and sign another record later. What was written " +
		"down or countersigned on the day does show the time: do that below."
	unsealedText = "The fingerprint is printed when the record is kept or verified; not here, for this page is one of the files that it " +
		"covers."

	// The commands stand between grave accents.
	checkText = "In the record's folder, `sha256sum -c manifest-sha256.txt` and `sha512sum -c tagmanifest-sha512.txt` say OK for " +
		"each file that is as it was; it takes both. Whoever can change a file can also write new lists, so compare the " +
		"fingerprint as well: the first 20 digits that `sha256sum tagmanifest-sha512.txt` prints."
	signerText = "Check it, with the signer's line in a file SIGNERS, by `ssh-keygen -Y verify -f SIGNERS -I NAME -n record@padband " +
		"-s tagmanifest-sha512.txt.sig < tagmanifest-sha512.txt`"
)

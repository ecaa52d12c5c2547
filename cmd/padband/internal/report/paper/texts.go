package paper

// These texts stand in the same words on every page.
const (
	shownText = "It shows where on the printed chart's scale the pad's colour lay in this photo, and how far reading the colour may " +
		"be off. \"Colour read as\" is made to hold what a perfect reader of this pad would say 95 times in 100; \"the water " +
		"may be\" counts the strip's own error too, and what is decided about the water rests on it."
	notShownText = "It cannot show whether the strip was sound, dipped and timed as its maker says, whether the water came from the " +
		"place named, or what the water is at another time. It says nothing of bacteria or of anything that the strip has no " +
		"pad for."
	dayText = "A signature proves who signed, not when, and the signer could make and sign another record later. A fingerprint " +
		"that is written down below and countersigned on the day shows that the record is from that day."
	unsealedText = "padband prints the fingerprint when the record is kept or verified. It cannot stand on this page, because it is made " +
		"from all files of the record, and this page is one of them."

	// The commands stand between grave accents.
	checkText = "In the record's folder, `sha256sum -c manifest-sha256.txt` and `sha512sum -c tagmanifest-sha512.txt` say OK for " +
		"each file that is as it was; it takes both. Whoever can change a file can also write new lists, so compare the " +
		"fingerprint as well: the first 20 digits that `sha256sum tagmanifest-sha512.txt` prints."
	signerText = "Check it, with the signer's line in a file SIGNERS, by `ssh-keygen -Y verify -f SIGNERS -I NAME -n record@padband " +
		"-s tagmanifest-sha512.txt.sig < tagmanifest-sha512.txt`"
)

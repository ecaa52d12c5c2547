package record

import (
	"time"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record/bag"
)

// signature checks that the record was signed by the key that it names, and by whom.
func (v *verifying) signature(tag []byte) {
	named := v.bag.Info.Get(labelSigned)
	data, err := v.root.Read(SignaturePath, bag.TagBytes)
	if !v.root.Has(SignaturePath) {
		switch {
		case named != "":
			v.fault(SignaturePath, "is missing: bag-info.txt says that %s signed", named)
		case v.o.Signers != nil:
			v.fault(SignaturePath, "is missing: the record is not signed, so nobody of the signers file vouches for it")
		default:
			v.remark("signature", "there is none: the checksums show damage, but only the fingerprint on paper "+
				"shows that nobody wrote the record anew")
		}
		return
	}
	if err != nil {
		v.fault(SignaturePath, "cannot be read: %v", bag.Cause(err))
		return
	}
	if v.o.Check == nil {
		v.unchecked(named)
		return
	}
	key, err := v.o.Check(data, tag)
	if err != nil {
		v.fault(SignaturePath, "%v", err)
		return
	}
	if key != named {
		v.fault(SignaturePath, "is by the key %s, but bag-info.txt names %q", key, named)
	}
	v.signer(key)
}

// unchecked says what is known of a signature when nothing here can read it.
func (v *verifying) unchecked(named string) {
	switch {
	case named == "":
		v.fault(SignaturePath, "is there, but bag-info.txt names no key that signed")
	case v.o.Signers != nil:
		v.fault(SignaturePath, "was not checked, so nobody of the signers file vouches for the record")
	default:
		v.remark(SignaturePath, "was not checked here: this proves nothing about who signed%s", by("; %s checks it", v.o.Ways.Verify))
	}
}

// signer says whose the key is that signed.
func (v *verifying) signer(key string) {
	if v.o.Signers == nil {
		v.remark(SignaturePath, "fits the key %s; no signers file was given, so this proves nothing about who signed", key)
		return
	}
	names, everyone, why := v.o.Signers.Whose(key, v.o.Now)
	switch {
	case why != "":
		v.fault(SignaturePath, "%s (%s)", why, key)
	case everyone:
		v.remark(SignaturePath, "fits the key %s, which the signers file gives to any name (*): this proves nothing about who signed", key)
	default:
		v.remark(SignaturePath, "signed by %s with the key %s; this says who signed, not when, and the signer could sign again", names, key)
	}
}

// stamp says what time the stamp holds, and whether the photo claims a later one.
func (v *verifying) stamp(tag []byte) {
	if !v.root.Has(StampPath) {
		v.remark("stamp", "there is none: nothing in the record shows when it was made")
		return
	}
	data, err := v.root.Read(StampPath, bag.TagBytes)
	if err != nil {
		v.fault(StampPath, "cannot be read: %v", bag.Cause(err))
		return
	}
	if v.o.Stamp == nil {
		v.remark(StampPath, "was not read here: this proves nothing about when%s", by("; %s reads it", v.o.Ways.Verify))
		return
	}
	at, err := v.o.Stamp(data, tag)
	if err != nil {
		v.fault(StampPath, "%v", err)
		return
	}
	said := at.UTC().Format(time.RFC3339)
	v.remark(StampPath, "is for this record and says %s; the authority's signature and certificates were not checked here", said)
	for _, taken := range v.photosTaken() {
		if surelyBefore(at, taken) {
			v.remark(StampPath, "says %s, before the photo was taken by its own time, %s: one of the two clocks was wrong", said, taken)
		}
	}
}

// photosTaken are the photos' own times as the reading holds them; "" for none.
func (v *verifying) photosTaken() (out []string) {
	data, err := v.root.Read(readingPath, bag.FileBytes)
	if err != nil {
		return nil // a finding elsewhere
	}
	was, err := reading.Parse(data)
	if err != nil {
		return nil // a finding elsewhere
	}
	for _, p := range was.Photos() {
		out = append(out, p.TakenText())
	}
	return out
}

// widest is how far a local time can be ahead of UTC (the Line Islands, +14:00).
const widest = 14 * time.Hour

// surelyBefore reports whether a time is before a photo's time, which may lack its
// offset.
func surelyBefore(t time.Time, taken string) bool {
	if at, err := takenAt(taken); err == nil {
		return t.Before(at)
	}
	at, err := time.Parse("2006-01-02T15:04:05", taken)
	return err == nil && t.Before(at.Add(-widest))
}

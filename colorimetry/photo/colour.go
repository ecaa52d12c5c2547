package photo

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"

	"padband/colorimetry"
	"padband/colorimetry/photo/profile"
)

// nameNone is the name of the colour space for a file that names none.
const nameNone = "none, taken as sRGB"

// resolve decides what the file's numbers mean, and writes that into the facts.
func (c colourClaim) resolve(grey bool, facts *Facts) (*profile.Transform, []Note) {
	if t, name, ok := c.cicp.Transform(); ok {
		facts.Profile = name
		return t, nil
	}
	switch {
	case c.icc != nil || c.spoil != "":
		return c.embedded(grey, facts)
	case !c.nclx.Unspecified():
		return c.byCode(facts)
	case c.srgb:
		facts.Profile = profile.NameSRGB
		return profile.SRGB(), nil
	case c.gamma != 0:
		return c.byGamma(facts)
	}
	facts.Profile, facts.ProfileAssumed = nameNone, true
	return profile.SRGB(), []Note{{NoteNoProfile, "The photo says nothing of its colour space; its colours are taken as sRGB."}}
}

// byCode takes the colours of a HEIC by its code points.
func (c colourClaim) byCode(facts *Facts) (*profile.Transform, []Note) {
	t, name, ok := c.nclx.Transform()
	if !ok {
		return dropped(fmt.Sprintf("its colour code points %d and %d are not known", c.nclx.Primaries, c.nclx.Transfer), facts)
	}
	facts.Profile = name
	return t, nil
}

// embedded opens the embedded profile, or drops it with a note.
func (c colourClaim) embedded(grey bool, facts *Facts) (*profile.Transform, []Note) {
	if c.icc != nil {
		sum := sha256.Sum256(c.icc)
		facts.ProfileSHA256 = hex.EncodeToString(sum[:])
	}
	why := c.spoil
	if why == "" {
		t, err := profile.Open(c.icc, grey)
		if err == nil {
			facts.Profile = cleanText(profile.Describe(c.icc), 80)
			if facts.Profile == "" {
				facts.Profile = "unnamed profile"
			}
			return t, nil
		}
		why = profile.Reason(err)
	}
	return dropped(why, facts)
}

func dropped(why string, facts *Facts) (*profile.Transform, []Note) {
	facts.Profile, facts.ProfileAssumed = nameNone, true
	return profile.SRGB(), []Note{{NoteProfileDropped,
		"The photo's colour profile cannot be used: " + why + ". Its colours are taken as sRGB."}}
}

// byGamma takes the colours of a PNG by its gAMA chunk, a pure power, with the
// primaries of its cHRM chunk or, without one, those of sRGB.
func (c colourClaim) byGamma(facts *Facts) (*profile.Transform, []Note) {
	m, name, ok := colorimetry.SRGB.ToXYZ, "sRGB primaries", true
	if c.prims != nil {
		name = "its own primaries"
		m, ok = c.prims.ToD50()
	}
	if !ok || !(c.gamma >= 0.1 && c.gamma <= 5) {
		return dropped("its gamma or primaries make no sense", facts)
	}
	power := 1 / c.gamma
	t := profile.ByPrimaries(m, func(v float64) float64 { return math.Pow(v, power) })
	if profile.Plausible(t) != nil {
		return dropped("its gamma or primaries make no sense", facts)
	}
	facts.Profile = fmt.Sprintf("gamma %.5g with %s", c.gamma, name)
	return t, nil
}

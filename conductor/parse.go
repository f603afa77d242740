package conductor

import (
	"strconv"
	"strings"
)

// ParseSize reads a conductor size:
//
//	"10 AWG"    a gauge from 1 to 40
//	"1/0 AWG"   1/0 to 4/0; "AWG" may be left out here, as no other
//	            system writes such a number
//	"250 kcmil" whole thousands of circular mils, 50 to 2500; "MCM" too
//	"2.5 mm2"   a size of IEC 60228, 0.5 to 300; "mm²" too
//
// The space may be left out; letters of AWG, kcmil and MCM may be of either
// case. Anything else is refused, a bare number above all: 10 may be a gauge
// or an area, and the two differ by a factor of two. The error wraps
// [ErrDomain] and names the forms.
//
// Definition: forms common in the trade, each naming its system.
func ParseSize(text string) (Size, error) {
	cut := strings.IndexFunc(text, func(r rune) bool {
		return !(r >= '0' && r <= '9' || r == '.' || r == '/')
	})
	if cut < 0 {
		cut = len(text)
	}
	number, name := text[:cut], strings.TrimPrefix(text[cut:], " ")
	if cut < len(text) && name == "" {
		return Size{}, refuseText(text)
	}
	s := Size{}
	aughts, isAught := strings.CutSuffix(number, "/0")
	n, isWhole := whole(number)
	switch {
	case isAught && (name == "" || strings.EqualFold(name, "AWG")):
		if a, ok := whole(aughts); ok {
			s = AWG(1 - a)
		}
	case isWhole && strings.EqualFold(name, "AWG"):
		s = AWG(n)
	case isWhole && (strings.EqualFold(name, "kcmil") || strings.EqualFold(name, "MCM")):
		s = KCMilSize(n)
	case name == "mm2" || name == "mm²":
		s = metricNamed(number)
	}
	if !s.IsValid() {
		return Size{}, refuseText(text)
	}
	return s, nil
}

// whole reads up to four digits without leading zeros.
func whole(text string) (n int, ok bool) {
	if text == "" || len(text) > 4 || text[0] == '0' {
		return 0, false
	}
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return 0, false
		}
		n = 10*n + int(text[i]-'0')
	}
	return n, true
}

// metricNamed finds the IEC size that prints as text.
func metricNamed(text string) Size {
	for i := range iec {
		s := Size{metric, iec[i].hundredths}
		if strings.TrimSuffix(s.String(), " mm²") == text {
			return s
		}
	}
	return Size{}
}

func refuseText(text string) error {
	const longest = 40
	if len(text) > longest {
		text = strings.ToValidUTF8(text[:longest], "") + "…"
	}
	return pkg.Invalid("size", strconv.Quote(text), wantSize+" (IEC 60228)")
}

// MarshalText writes the size as [Size.String] does; the zero Size gives an
// error that wraps [ErrDomain].
//
// Definition: the forms that [ParseSize] lists.
func (s Size) MarshalText() ([]byte, error) {
	if !s.IsValid() {
		return nil, s.refuse(wantSize)
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads a size as [ParseSize] does and leaves s alone where that
// gives an error.
//
// Definition: the forms that [ParseSize] lists.
func (s *Size) UnmarshalText(text []byte) error {
	parsed, err := ParseSize(string(text))
	if err != nil {
		return err
	}
	*s = parsed
	return nil
}

package walk

import (
	"fmt"
	"math/big"

	"evenpull/procedures/plan"
	"evenpull/spec/pattern"
	"evenpull/spec/quantity"
)

// A stretch is known only by measuring: the stretch itself, or the bolt's length
// before and now, and the torque it took where the sheet sets a ceiling.
//
//	0.13 mm
//	0.13 mm at 42 N·m
//	free 65.20 mm, now 65.33 mm, at 42 N·m
type stretched struct {
	mm     *big.Rat
	torque *quantity.Torque
}

var stretchForm = pattern.Of(`(?i)^\s*(?:free\s+(.+?)[,;]?\s+now\s+(.+?)|(.+?))(?:[,;]?\s+at\s+(.+?))?\s*$`)

// longerThan this many times its limit, a "stretch" is a length of the bolt.
const lengthNotStretch = 10

func (w Window) readStretch(reading string) (stretched, error) {
	var out stretched
	m := stretchForm.RE().FindStringSubmatch(reading)
	if m == nil {
		return out, &quantity.ParseError{Input: reading, What: "there is no figure", Remedy: "write it like " + w.Lengths()}
	}
	if m[1] != "" {
		free, err := quantity.ParseLength(m[1])
		if err != nil {
			return out, err
		}
		now, err := quantity.ParseLength(m[2])
		if err != nil {
			return out, err
		}
		if out.mm = now.Sub(free).Exact(quantity.Millimetre); out.mm.Sign() < 0 {
			return out, &quantity.ParseError{Input: reading, What: fmt.Sprintf("%s now is shorter than %s free", now, free), Remedy: "measure again; the free length is taken before the bolt goes in"}
		}
	} else {
		l, err := quantity.ParseLength(m[3])
		if err != nil {
			return out, err
		}
		if out.mm = l.Exact(quantity.Millimetre); w.high != nil && out.mm.Cmp(new(big.Rat).Mul(w.high, big.NewRat(lengthNotStretch, 1))) > 0 {
			return out, &quantity.ParseError{Input: reading, What: fmt.Sprintf("%s is the length of a bolt, not what it stretched", l), Remedy: "give both lengths, like " + w.Lengths()}
		}
	}
	if m[4] != "" {
		t, err := quantity.ParseTorque(m[4])
		if err != nil {
			return out, err
		}
		out.torque = &t
	}
	if w.Ceiling != nil && out.torque == nil {
		return out, &quantity.ParseError{Input: reading, What: fmt.Sprintf("the torque it took is missing, and must not go over %s", w.Ceiling), Remedy: fmt.Sprintf("add it: %s at %.3g N·m", reading, shareOfCeiling*w.Ceiling.Nm())}
	}
	return out, nil
}

// shareOfCeiling is how near an example comes to the ceiling.
const shareOfCeiling = 0.9

// inside is a stretch well inside the window, mm.
func (w Window) inside() float64 {
	low, high := w.Limits()
	if w.high != nil {
		return (low + high) / 2
	}
	return 1.1 * low
}

// Lengths is the same stretch as two lengths of some bolt: "free 65.20 mm, now 65.335 mm".
func (w Window) Lengths() string {
	const free = 65.2 // mm
	return fmt.Sprintf("free %.2f mm, now %.6g mm", free, free+w.inside())
}

// Example is a stretch well inside the window, as it would be typed.
func (w Window) Example() string {
	text := fmt.Sprintf("%.4g mm", w.inside())
	if w.Ceiling != nil {
		text += fmt.Sprintf(" at %.3g N·m", shareOfCeiling*w.Ceiling.Nm())
	}
	return text
}

// judgeStretch puts a measured stretch against the window and the ceiling.
func (w Window) judgeStretch(reading string) (verdict, error) {
	st, err := w.readStretch(reading)
	if err != nil {
		return unreadable, err
	}
	if w.pastCeiling(st) {
		return beyond, nil
	}
	return w.place(st.mm), nil
}

// overCeiling reports that it is the torque that went too far, not the stretch.
func (w Window) overCeiling(reading string) bool {
	st, err := w.readStretch(reading)
	return err == nil && w.pastCeiling(st)
}

func (w Window) pastCeiling(st stretched) bool {
	return w.Ceiling != nil && w.over(st.torque.Exact(quantity.NewtonMetre), w.Ceiling.Exact(quantity.NewtonMetre))
}

// readPlainLength reads a stretch as the first rules did: a length and no more.
func (w Window) readPlainLength(reading string) (verdict, error) {
	l, err := quantity.ParseLength(reading)
	if err != nil {
		return unreadable, err
	}
	return w.place(l.Exact(quantity.Millimetre)), nil
}

func needStretch(st *plan.Stage, w Window) *Refusal {
	give := "the stretch, or free and now"
	if w.Ceiling != nil {
		give += fmt.Sprintf(", and the torque it took, at most %s", w.Ceiling)
	}
	return &Refusal{What: st.Fastener.ID + " is known by measuring alone: " + w.Text(), Remedy: "give " + give, Ways: []Way{{Do: Confirm, Needs: w.Example()}}}
}

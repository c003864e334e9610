package estimate

import (
	"evenpull/spec/clamp"

	"evenpull/spec"
)

// Verdict says what of a group's figures was held against its bolt, and what was not.
// Doubts stand among the problems as warnings.
type Verdict struct {
	Group *spec.Group
	clamp.Judgement
}

// Whole reports whether every figure of the group was judged.
func (v Verdict) Whole() bool { return len(v.NotJudged) == 0 }

// Text is the verdict in a line, to stand after the group's name.
func (v Verdict) Text() string {
	if len(v.Doubts) == 0 {
		return v.Summary()
	}
	text := "doubted: " + countedFigures(len(v.Doubts))
	if rest := v.Summary(); rest != "" {
		text += "; " + rest
	}
	return text
}

func countedFigures(n int) string {
	if n == 1 {
		return "1 figure, see the warning"
	}
	return "several figures, see the warnings"
}

// Verdicts judges every group of a procedure, in file order.
func Verdicts(p *spec.Procedure) []Verdict {
	type alike struct {
		joint clamp.Joint
		final clamp.Pull
	}
	known := map[alike]clamp.Judgement{} // groups of the same bolt and figure are judged once
	var list []Verdict
	for _, g := range p.Groups {
		joint, _ := Joint(g)
		final, tightened := Final(p, g)
		if p.Direction != spec.Close || !tightened {
			list = append(list, Verdict{g, clamp.Judgement{NotJudged: []string{"nothing here tightens it"}}})
			continue
		}
		same := alike{joint, final}
		judgement, ok := known[same]
		if !ok {
			var err error
			if judgement, err = joint.Judge(final); err != nil { // what the estimate cannot take is no reason to doubt the sheet
				judgement = clamp.Judgement{NotJudged: []string{err.Error()}}
			}
			known[same] = judgement
		}
		list = append(list, Verdict{g, judgement})
	}
	return list
}

package report

import (
	"math"
	"strings"
	"testing"
)

func mapOf(places [][2]float64) Sheet {
	var s Sheet
	for i, p := range places {
		s.Fasteners = append(s.Fasteners, Fastener{ID: "M12", X: p[0], Y: p[1], Hollow: i%2 == 1, Stages: []Stage{{Number: i + 1, Action: "torque", Figure: "24 N·m to 28 N·m"}}})
	}
	return s
}

// Nothing drawn leaves the frame, and no label covers a bolt or another label.
func TestBoltMapStaysInItsFrame(t *testing.T) {
	places := map[string][][2]float64{
		"one": {{5, 5}}, "two at one place": {{1, 1}, {1, 1}}, "in a row": {{0, 0}, {1000, 0}, {2000, 0}}, "upright": {{0, 0}, {0, 900}}, "far apart": {{-1e6, 3}, {1e6, 4}, {0, 0}},
		"head": {{0, 0}, {80, 0}, {160, 0}, {240, 0}, {0, 90}, {80, 90}, {160, 90}, {240, 90}},
	}
	for i := range 3000 {
		places["many"] = append(places["many"], [2]float64{float64(i % 60), float64(i / 60)})
	}
	for i := range 24 {
		a := float64(i) * math.Pi / 12
		places["circle"] = append(places["circle"], [2]float64{60 * math.Sin(a), 60 * math.Cos(a)})
	}
	for name, at := range places {
		d := mapOf(at).draw(90, 110)
		if d.Width > 90 || d.Height > 110.01 {
			t.Errorf("%s: drawn %g × %g mm, want at most 90 × 110", name, d.Width, d.Height)
		}
		var labels []box
		for _, b := range d.Bolts {
			r := max(b.R, b.Outer)
			if !(b.X-r >= 0 && b.X+r <= d.Width && b.Y-r >= 0 && b.Y+r <= d.Height && b.R > 0) {
				t.Errorf("%s: a bolt at %g, %g of radius %g leaves the frame %g × %g", name, b.X, b.Y, r, d.Width, d.Height)
				break
			}
			if b.Label != nil {
				labels = append(labels, b.Label.box(d))
			}
		}
		for i, l := range labels {
			if l.left < -0.1 || l.top < -0.1 || l.right > d.Width+0.1 || l.bottom > d.Height+0.1 || meetsAny(l, labels[i+1:]) {
				t.Errorf("%s: label %v leaves the frame %g × %g or covers another", name, l, d.Width, d.Height)
			}
			for _, b := range d.Bolts {
				if l.meets(box{b.X - 0.7*b.R, b.Y - 0.7*b.R, b.X + 0.7*b.R, b.Y + 0.7*b.R}) {
					t.Errorf("%s: label %v covers the bolt at %g, %g", name, l, b.X, b.Y)
				}
			}
		}
		if name == "head" && (!d.Figures || len(labels) != 8) || name == "many" && len(labels) > 0 {
			t.Errorf("%s: %d labels, figures %v", name, len(labels), d.Figures)
		}
	}
}

// box is the room of a label as it is drawn.
func (l label) box(d drawing) box {
	w := wide(l.ID, d.IDSize)
	bottom := l.Y + 0.18*d.IDSize
	if l.Figure != "" {
		w, bottom = max(w, wide(l.Figure, d.FigureSize)), l.Y2+0.18*d.FigureSize
	}
	left := map[string]float64{"start": l.X, "middle": l.X - w/2, "end": l.X - w}[l.Anchor]
	return box{left, l.Y - 0.8*d.IDSize, left + w, bottom}
}

func TestBoltMapShowsTheFaceAsSeenAtTheStand(t *testing.T) {
	s := Sheet{Fasteners: []Fastener{{ID: "low left", X: -10, Y: -5}, {ID: "high right", X: 10, Y: 5, Hollow: true, Stages: []Stage{{Confirmed: true, Number: 4}, {Number: 5}}}}}
	d := s.draw(90, 90)
	low, high := d.Bolts[0], d.Bolts[1]
	if low.X >= high.X || low.Y <= high.Y {
		t.Errorf("low left is drawn at %g, %g and high right at %g, %g (y counts downwards)", low.X, low.Y, high.X, high.Y)
	}
	if high.State != "part" || high.Arc == nil || high.Outer <= high.R || high.Number != 1 {
		t.Errorf("half done and hollow is drawn as %+v", high)
	}
	if low.State != "unused" || low.Outer != 0 || low.Number != 0 {
		t.Errorf("a fastener without stages is drawn as %+v", low)
	}
}

// The map alone is a file that any drawing program reads: well-formed, and
// hostile text stays text.
func TestTheMapAloneIsWellFormed(t *testing.T) {
	for name, s := range map[string]Sheet{"crankcase": crankcase(t).sheet("7"), "hostile": hostile(t), "empty": {}} {
		text := printed(t, WriteSVG, s)
		wellFormed(t, name, text)
		if strings.Contains(text, "<script") {
			t.Errorf("%s: a tag from the record became part of the drawing", name)
		}
	}
}

func TestOrdersAndFinalFigures(t *testing.T) {
	s := coverBench(t).sheet("7")
	got := map[string]string{}
	orders := map[string]int{}
	for i, f := range s.Fasteners {
		got[f.ID], orders[f.ID] = f.Final(), s.Orders()[i]
	}
	// R1 to R4 are loosened, pulled and turned again after all others.
	for id, want := range map[string]string{"R1": "9 N·m + 30°", "F1": "16 N·m", "N1": "15 N·m"} {
		if got[id] != want {
			t.Errorf("%s ends at %q, want %q", id, got[id], want)
		}
	}
	for id, want := range map[string]int{"N1": 1, "F1": 2, "R1": 3, "R2": 4, "R3": 5, "R4": 6} {
		if orders[id] != want {
			t.Errorf("%s is number %d, want %d", id, orders[id], want)
		}
	}
}

// A pass that only feels a bolt does not say when it got its figure.
func TestAVerifyPassNumbersNothing(t *testing.T) {
	pull, feel := Stage{Pass: "Final", Action: "torque", Figure: "20 N·m"}, Stage{Pass: "Feel", Action: "verify", Figure: "verify at least 18 N·m"}
	numbered := func(st Stage, n int) Stage { st.Number = n; return st }
	s := Sheet{Fasteners: []Fastener{{ID: "A", Stages: []Stage{numbered(pull, 1), numbered(feel, 4)}}, {ID: "B", Stages: []Stage{numbered(pull, 2)}}, {ID: "C", Stages: []Stage{numbered(feel, 3)}}}}
	if got := s.Orders(); got[0] != 1 || got[1] != 2 || got[2] != 3 {
		t.Errorf("orders %v, want 1 2 3", got)
	}
	if got := s.Fasteners[0].Final(); got != "20 N·m" {
		t.Errorf("A ends at %q", got)
	}
}

package engine

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Two of a kind on one engine: what came off, was found, measured and is to buy
// at the one is not the other's.
func TestTwoOfAKindAreKeptApart(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	strip := func(id, place string, at time.Time, shaft walk.Facts, said walk.Command) Walk {
		w := begin(t, id, sheet(t, openSheet+questions), at).on("check:gasket-face-flat", map[string]walk.Facts{"part:rotor": shaft}).
			do(said, walk.Command{Do: walk.Measure, Reading: "0.02 mm"}, findNew("clip", walk.Facts{walk.Where: place})).done().walk()
		w.Place = place
		return w
	}
	front := strip("one", "front head", day, walk.Facts{walk.Condition: "scored", walk.Size: "20 mm"}, walk.Command{Do: walk.Yes})
	rear := strip("two", "rear head", day.Add(time.Hour), walk.Facts{walk.Condition: "good", walk.Size: "21 mm", walk.Goes: "grinding"}, walk.Command{Do: walk.No, Text: "hollow"})
	e := fold("7", []Walk{front, rear}, nil, closers)
	if len(e.Problems) > 0 {
		t.Error(e.Problems)
	}
	wantList(t, "to buy", rows(e), []string{"0/2 cover gasket 125-40", "0/1 rotor ", "0/8 sealing washer 125-12"})
	if c := e.Closings; len(c) != 2 || c[0].Text() != "close-the-cover, front head" || c[1].Place != "rear head" || len(e.ToClose) != 1 {
		t.Errorf("to close %v, %v", e.ToClose, c)
	}
	if h := e.Headline(day); !strings.Contains(h, "last: Open the cover, rear head done") || !strings.Contains(h, "rotor has to come back") {
		t.Error(h)
	}
	for place, want := range map[string]struct {
		rotor, found, size string
	}{"Front head": {"scored", "", "20 mm"}, "rear head": {"good", "Gasket face flat? no: hollow", "21 mm"}} {
		here := e.At(place)
		list := here.Carried(closers[0])
		clip := 0
		for _, c := range list {
			if c.ID == "rotor" && c.Facts[walk.Condition] != want.rotor {
				t.Errorf("%s is brought a rotor that is %v", place, c.Facts)
			}
			if c.New {
				clip++
			}
		}
		if len(list) != 6 || clip != 1 || texts(here) != want.found || here.Last["part:rotor"].Text != want.size || len(here.StripDowns(closers[0])) != 1 {
			t.Errorf("%s sees %d things, %d clips, found %q, %v, %d strip-downs", place, len(list), clip, texts(here), here.Last["part:rotor"], len(here.StripDowns(closers[0])))
		}
	}
	if none := e.At(""); len(none.Carried(closers[0]))+len(none.Faults)+len(none.Last)+len(none.StripDowns(closers[0])) > 0 {
		t.Errorf("without a place: %+v", none.Off)
	}

	// What is marked, closed and renewed at the one leaves the other as it is.
	if _, err := e.Mark(Marking{Thing: "rotor", Kind: record.Sent, Work: "grinding"}); err == nil || !strings.Contains(err.Error(), `"rotor, front head", "rotor, rear head"`) {
		t.Errorf("two rotors, and no question: %v", err)
	}
	sent := marked(t, e, Marking{Thing: "rotor", Place: "Rear Head", Kind: record.Sent})
	l := ledger("l", day.Add(2*time.Hour), append(sent, walk.Event{Kind: record.Back, Item: "part:rotor", Facts: map[string]string{record.Place: "rear head"}},
		walk.Event{Kind: walk.Cleaned, Item: "part:rotor", Facts: map[string]string{record.Place: "rear head"}})...)
	e = fold("7", []Walk{front, rear}, []*record.File{l}, closers)
	for _, at := range []time.Time{day.AddDate(1, 0, 0), day.AddDate(-1, 0, 0)} {
		closing := begin(t, "up", closers[0], at)
		up := closing.bring(e.At("front head")).on("", nil).done().walk()
		up.Place = "front head"
		left := fold("7", []Walk{front, rear, up}, []*record.File{l}, closers)
		wantList(t, "left", keys(left.Off), []string{"1 M1 M8x1.25, rear head", "1 M2 M8x1.25, rear head", "1 clip, rear head", "1 rotor, rear head", "1 thrust-washer, rear head", "2 shim, rear head"})
		if len(left.Problems) > 0 || left.Renewals[0].Place != "front head" {
			t.Errorf("%q, %+v", left.Problems, left.Renewals[0])
		}
	}
	if got := ident.Fastener("B3", "M8x1.25").At("front head").String(); got != "B3 M8x1.25, front head" {
		t.Errorf("called %s", got)
	}
}

// A new one for the one place is not on the shelf for the other.
func TestWhatArrivedIsSeenFromItsPlace(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	down := begin(t, "one", sheet(t, openSheet), day).on("", map[string]walk.Facts{"part:rotor": {walk.Condition: "scored"}}).done().walk()
	down.Place = "front head"
	e := fold("7", []Walk{down}, nil, closers)
	l := ledger("l", day.Add(time.Hour), marked(t, e, Marking{Thing: "rotor", Kind: record.Arrived})...)
	e = fold("7", []Walk{down}, []*record.File{l}, closers)
	for _, c := range e.At("front head").Carried(closers[0]) {
		if c.ID == "rotor" && !c.Arrived {
			t.Error("the new rotor is not seen from its place")
		}
	}
}

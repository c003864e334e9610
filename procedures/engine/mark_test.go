package engine

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// What is marked is told apart by what it can be meant of: of two rotors the one is
// cleaned that waits for it, the one comes back that is away.
func TestOfTwoOneIsMeantThatTheMarkFits(t *testing.T) {
	rotor := func(place string, work, unclean string) Thing {
		return Thing{Thing: ident.Part("rotor").At(place), Name: "rotor", Count: 1, Work: work, Unclean: unclean}
	}
	e := Engine{Tag: "7", Off: []Thing{rotor("front head", "balancing", ""), rotor("rear head", "", "coating")}}
	for _, c := range []struct {
		m     Marking
		place string
		want  string
	}{
		{Marking{Kind: record.Back}, "front head", ""},
		{Marking{Kind: walk.Cleaned}, "rear head", ""},
		{Marking{Kind: walk.Cleaned, Place: "front head"}, "", "is still out for balancing"},
		{Marking{Kind: walk.Noted, Note: "nicked"}, "", `could be "rotor, front head", "rotor, rear head"; write one of them`},
		{Marking{Kind: walk.Noted, Note: "nicked", Place: "Rear head"}, "rear head", ""},
	} {
		c.m.Thing = "Rotor"
		ev, err := e.Mark(c.m)
		if c.want == "" && (err != nil || ev.Item != "part:rotor" || ev.Facts[record.Place] != c.place) || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%+v: %+v, %v", c.m, ev, err)
		}
	}
}

// A name that many things have is answered with six of them.
func TestOfManyAFewAreNamed(t *testing.T) {
	for n, want := range map[int]string{6: `"B1 M8x1.25", "B2 M8x1.25", "B3 M8x1.25", "B4 M8x1.25", "B5 M8x1.25", "B6 M8x1.25"; write`, 7: `"B6 M8x1.25", …; write`} {
		e := Engine{Tag: "7"}
		for i := range n {
			e.Off = append(e.Off, Thing{Thing: ident.Fastener(fmt.Sprintf("B%d", i+1), "M8x1.25"), Name: "rim bolt M8x1.25"})
		}
		if _, err := e.Mark(Marking{Thing: "rim bolt M8x1.25", Kind: record.Sent, Work: "plating"}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("of %d: %v", n, err)
		}
	}
}

// A picture is of what is off, of what is to order, or of the whole engine; with another
// mark it is an event of its own.
func TestAPictureIsOfWhatItIsSaidOf(t *testing.T) {
	down, closers := apart(t)
	e := fold("7", []Walk{down}, nil, closers)
	for _, c := range []struct {
		m    Marking
		want []string
	}{
		{Marking{Thing: "rotor", Kind: walk.Pictured}, []string{"photo part:rotor  blue"}},
		{Marking{Thing: "M2", Kind: walk.Pictured}, []string{"photo M2  blue"}},
		{Marking{Thing: "cover gasket", Kind: walk.Pictured}, []string{"photo  cover gasket blue"}},
		{Marking{Thing: "Whole", Kind: walk.Pictured}, []string{"photo   blue"}},
		{Marking{Thing: walk.Whole, Kind: walk.Noted, Note: "smells of fuel"}, []string{"noted   smells of fuel", "photo   blue"}},
		{Marking{Thing: "shim", Kind: walk.Noted, Note: "thin"}, []string{"noted part:shim  thin", "photo part:shim  blue"}},
		{Marking{Thing: "lamp", Kind: walk.Found, New: true, Because: "hung loose"}, []string{"found part:lamp  hung loose", "photo part:lamp  blue"}},
		{Marking{Thing: "lamp", Kind: record.Sent, New: true, Work: "plating"}, []string{"found part:lamp  ", "sent part:lamp  plating", "photo part:lamp  blue"}},
	} {
		c.m.Photo, c.m.Caption = lobe.Facts(), "blue"
		events := marked(t, e, c.m)
		var got []string
		for _, ev := range events {
			got = append(got, fmt.Sprintf("%s %s %s %s", ev.Kind, ev.Fastener+ev.Item, ev.Piece, ev.Text))
		}
		wantList(t, c.m.Thing, got, c.want)
		if p, ok := walk.PhotoOf(events[len(events)-1]); !ok || p != lobe {
			t.Errorf("%s: kept %+v", c.m.Thing, p)
		}
	}
	if _, err := e.Mark(Marking{Thing: "lamp", Kind: walk.Pictured, Photo: lobe.Facts()}); err == nil || !strings.Contains(err.Error(), "is not off engine 7") {
		t.Errorf("of what nobody knows: %v", err)
	}
}

// A new thing may be called as one at another place is; what is said of it is said of it
// alone, and it is called by its name and place.
func TestANewThingMayHaveTheNameOfOneAtAnotherPlace(t *testing.T) {
	down := begin(t, "one", sheet(t, openSheet), day).on("", nil).done().walk()
	down.Place = "front head"
	e := fold("7", []Walk{down}, nil, []*spec.Procedure{sheet(t, closeSheet)})
	for place, want := range map[string]string{"": "rotor", "rear head": "rear head: rotor"} {
		events := marked(t, e, Marking{New: true, Thing: "rotor", Place: place, Kind: record.Sent, Work: "coating"})
		if len(events) != 2 || events[1].Item != "part:rotor-2" || events[1].Facts[record.Place] != place || e.NameOf(events[1], events) != want {
			t.Errorf("at %q: %+v, called %s", place, events, e.NameOf(events[1], events))
		}
	}
	if _, err := e.Marked(Marking{New: true, Thing: "Rotor", Place: "Front head", Kind: walk.Found}); err == nil || !strings.Contains(err.Error(), "is off engine 7 already") {
		t.Errorf("a second one at one place: %v", err)
	}
	for want, ev := range map[string]walk.Event{
		"front head: rotor": {Item: "part:rotor", Facts: map[string]string{record.Place: "front head"}},
		"front head: M1":    {Fastener: "M1", Facts: map[string]string{record.Place: "front head", threadFact: "M8x1.25"}},
		"stud":              {Piece: "stud"}, walk.Whole: {}, "lamp": {Item: "part:lamp"},
	} {
		if got := e.NameOf(ev, nil); got != want {
			t.Errorf("%+v is called %q, want %q", ev, got, want)
		}
	}
}

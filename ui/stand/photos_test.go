package stand

import (
	"errors"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

var lobe = walk.Photo{Name: "lobe.jpg", SHA256: strings.Repeat("0a", 32), Type: "jpg"}

func looking(c *Config) {
	c.Look = func(path string) (map[string]string, error) {
		if path != "lobe.jpg" {
			return nil, errors.New(path + ": there is no such file; give the path of a picture")
		}
		return lobe.Facts(), nil
	}
}

func TestAPhotoIsOfWhatIsInHandOrOfWhatIsNamed(t *testing.T) {
	r := newRig(t, caseText(t), looking).toStage("part")
	n := len(r.events)
	r.press("t").shows("Photo of what is in hand").write("gone.jpg").press("enter").count(n).shows("REFUSED", "gone.jpg: there is no such file")
	r.press("esc").press("t").write("lobe.jpg, blue at the rim").press("enter").wrote(walk.Pictured).shows("kept: photo lobe.jpg: blue at the rim, of thrust washer")
	e := r.events[len(r.events)-1]
	if p, ok := walk.PhotoOf(e); !ok || p != lobe || !strings.HasPrefix(e.Item, "part:") || e.Text != "blue at the rim" {
		t.Errorf("%+v", e)
	}
	r.shows("said 2026-03-04: photo lobe.jpg: blue at the")
	r.press("t").write("lobe.jpg of M1").press("enter").wrote(walk.Pictured)
	if e := r.events[len(r.events)-1]; e.Fastener != "M1" || e.Item != "" {
		t.Errorf("%+v", e)
	}
	r.press("t").write("lobe.jpg of whole").press("enter").wrote(walk.Pictured)
	if e := r.events[len(r.events)-1]; e.Fastener+e.Item != "" {
		t.Errorf("%+v", e)
	}
	r.press("m").write("M1: tender").press("enter").wrote(walk.Noted)
	if e := r.events[len(r.events)-1]; e.Fastener != "M1" || e.Text != "tender" {
		t.Errorf("%+v", e)
	}
	r.press("u").shows(`Take back "photo lobe.jpg"`).press("esc")
	r = newRig(t, caseText(t)).toStage("part")
	r.press("t").hides("Photo of") // nowhere to keep it
}

// What was said of a thing since it came off stands on the screen when it goes
// back, the last of it where there is room, and all of it a key away.
func TestWhatWasSaidOfAThingIsThereWhenItGoesBack(t *testing.T) {
	id := newRig(t, caseText(t)).model.cfg.State.Plan.Procedure.Parts[0].ID
	at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	r := brought(t, walk.Carried{ID: id, Name: "thrust washer", Count: 1, Said: []walk.Said{{At: at, Text: "sent to the grinder for lapping"}, {At: at.AddDate(0, 0, 9), Text: "3 g off, he says"}, {At: at.AddDate(0, 1, 0), Text: "blue at the rim", Photo: &lobe}}})
	r.toStage("part").shows("said 2025-04-04: photo lobe.jpg: blue at the", "2 more")
	r.press("h").shows("Said of part", "2025-03-04", "sent to the grinder for lapping", "3 g off", "photo lobe.jpg").press("esc")
	r.size(40, 15)
	r.shows("h what was said")
	r.size(80, 24)
	r.press("enter", "enter").wrote(walk.Confirmed).hides("lobe.jpg") // the first dismisses the page
	n := len(r.events)
	r.press("h").count(n).hides("Said of")
}

// Beside what is in hand stands what was said of it last, and how much more there is.
func TestTheLastThingSaidStandsBesideItAndCountsTheRest(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	for _, note := range []string{"thread is tender", "washer is dished"} {
		r.press("m").write(note).press("enter").wrote(walk.Noted)
		if r.shows(note); note == "thread is tender" {
			r.hides("more)")
		}
	}
	r.shows("(h: 1 more)").hides("thread is tender")
}

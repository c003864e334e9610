package engine

import (
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

func TestMetersAreReadDigitByDigit(t *testing.T) {
	for text, want := range map[string]string{
		"1240 h": "1240 h", " 0412,50 hours": "412.50 h", "18 000km": "18000 km", "1000000 Miles": "1000000 mi", "0.0 h": "0.0 h",
		"1240": "", "h": "", "-3 h": "", "1.2.3 h": "", "3. h": "", "1e3 km": "", "12 furlongs": "", "1234567890123 h": "", "": "", "h 3": "",
	} {
		if got, err := ParseMeter(text); got != want || (err == nil) != (want != "") {
			t.Errorf("%q: got %q, %v, want %q", text, got, err, want)
		}
	}
}

// What the engine had run stands with each job, and the newest is the engine's.
func TestJobsSayWhatTheEngineHadRun(t *testing.T) {
	at := func(text string) walk.Command {
		return walk.Command{Do: walk.Note, Text: "at " + text, Facts: map[string]string{MeterFact: text}}
	}
	down := begin(t, "down", sheet(t, openSheet), day).do(at("1240 h")).on("", nil).done()
	up := begin(t, "up", sheet(t, closeSheet), day.Add(48*time.Hour)).do(at("1240.5 h"), walk.Command{Do: walk.Note, Text: "at 9 h"})
	between := ledger("l", day.Add(24*time.Hour), walk.Event{Kind: record.Metered, Reading: "1240.2 h"})
	e := fold("7", []Walk{up.walk(), down.walk()}, []*record.File{between}, []*spec.Procedure{sheet(t, closeSheet)})
	if e.Meter != "1240.5 h" || e.Walks[0].Meter != "1240 h" || e.Walks[1].Meter != "1240.5 h" {
		t.Errorf("engine %q, down %q, up %q", e.Meter, e.Walks[0].Meter, e.Walks[1].Meter)
	}
	for text, want := range map[string]bool{"1240.4 h": true, "1240.50 h": false, "1241 h": false, "9 km": false} {
		if got := MeterBehind(text, e.Meter); got != want {
			t.Errorf("%s after 1240.5 h: behind %v", text, got)
		}
	}
}

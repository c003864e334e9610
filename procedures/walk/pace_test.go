package walk

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

func TestPaceIsTheUsualGapWithoutThePauses(t *testing.T) {
	places := ""
	for i := range 12 {
		places += fmt.Sprintf("M%d = [%d, 0]\n", i, 10*i)
	}
	s := New(planOf(t, strings.Replace(sealed, "M1 = [0, 0]\n", places, 1)))
	now := start
	must(t, s, ok(), now) // the smear
	for i, gap := range []int{30, 20, 40, 3600, 30, 10} {
		if _, known := s.Pace(); known && i < 4 {
			t.Errorf("a pace is believed after %d stages", i)
		}
		now = now.Add(time.Duration(gap) * time.Second)
		s.Apply(Event{Seq: len(s.Events) + 1, At: now, Kind: Confirmed, Item: s.CurrentItem().Key().String()})
	}
	if pace, known := s.Pace(); !known || pace != 30*time.Second {
		t.Errorf("pace %s, %v; want 30 s, the middle of 10, 20, 30, 40", pace, known)
	}
	if need, known := s.SealantNeed(now); !known || need != 18*30*time.Second {
		t.Errorf("need %s, %v; want 18 stages of 30 s", need, known)
	}
}

package quantity

import "testing"

func TestADecimalThatMayBeAThousandIsTold(t *testing.T) {
	for text, want := range map[string]string{
		"1,250 N·m": "1250 N·m", "1.250 N·m": "1250 N·m", "221,000 lbf·in": "221000 lbf·in", "12.500 N": "12500 N", "1.080°": "1080°",
		"0.868 N·m": "", "0,125 N·m": "", "1.25 N·m": "", "1.2500 N·m": "", "1234.567 N·m": "", "1,250 to 1,300 N·m": "1250 to 1300 N·m", "1,000 lbf·ft ± 5 %": "1000 lbf·ft ± 5 %", "22 ± 1.125 N·m": "", "20.5 to 21.5 N·m": "", "1250 N·m": "", "1 250 N·m": "", "12,500 mm": "", "1.250 in": "", "1.250e1 N·m": "", "25": "", "½ turn": "",
	} {
		if got, ok := MayBeThousand(text); got != want || ok != (want != "") {
			t.Errorf("%q may be %q, %v; want %q", text, got, ok, want)
		}
	}
}

func TestRecordsReadAsTheyWereWalked(t *testing.T) {
	for refused, want := range map[string]string{
		"20/25 N·m": "0.8 N·m", "1/3 N·m": "0.333333333333 N·m", "2 1/4 kgm": "2.25 kgf·m", "90/95°": "0.947368421053°",
		"4 kg": "4 kgf", "4.5 KGS": "4.5 kgf", "12 lb": "12 lbf", "12 pounds": "12 lbf", "1/4 lb.": "0.25 lbf",
		"22 N·m": "22 N·m",
	} {
		q, err := ParseAny(AsRecorded(refused))
		if err != nil || q.String() != want {
			t.Errorf("%q was %s, and reads as %s (%v)", refused, want, q, err)
		}
	}
	if s, err := ParseTorqueSpan(AsRecorded("20/25 to 3 N·m")); err != nil || s.Text() != "0.8 to 3 N·m" {
		t.Errorf("a range reads as %s (%v)", s, err)
	}
	for _, still := range []string{"5/0 N·m", "25", "25 furlongs", ""} {
		if q, err := ParseAny(AsRecorded(still)); err == nil {
			t.Errorf("%q is read as %s", still, q)
		}
	}
}

package clamp

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// vdiRow is one thread of VDI 2230's tables A1 (coarse) and A2 (fine), class 8.8 unless
// said, at friction 0.08, 0.10, 0.12 and 0.14: preload in kN at 90 % of yield, and torque.
type vdiRow struct {
	thread, class string
	kN, nm        [4]string
}

// From memory of VDI 2230 (2003, 2015), not read in print.
var vdiCurrent = []vdiRow{
	{"M5", "8.8", [4]string{"7.6", "7.4", "7.2", "7.0"}, [4]string{"4.4", "5.2", "5.9", "6.5"}},
	{"M5", "10.9", [4]string{"11.1", "10.8", "10.6", "10.3"}, [4]string{"6.5", "7.6", "8.6", "9.5"}},
	{"M6", "8.8", [4]string{"10.7", "10.4", "10.2", "9.9"}, [4]string{"7.7", "9.0", "10.1", "11.3"}},
	{"M6", "12.9", [4]string{"18.4", "17.9", "17.5", "17.0"}, [4]string{"13.2", "15.4", "17.4", "19.3"}},
	{"M8", "8.8", [4]string{"19.5", "19.1", "18.6", "18.1"}, [4]string{"18.5", "21.6", "24.6", "27.3"}},
	{"M8", "10.9", [4]string{"28.7", "28.0", "27.3", "26.6"}, [4]string{"27.2", "31.8", "36.1", "40.1"}},
	{"M8", "12.9", [4]string{"33.6", "32.8", "32.0", "31.1"}, [4]string{"31.8", "37.2", "42.2", "46.9"}},
	{"M10", "8.8", [4]string{"31.0", "30.3", "29.6", "28.8"}, [4]string{"36", "43", "48", "54"}},
	{"M10", "12.9", [4]string{"53.3", "52.1", "50.8", "49.4"}, [4]string{"62", "73", "83", "93"}},
	{"M12", "8.8", [4]string{"45.2", "44.1", "43.0", "41.9"}, [4]string{"63", "73", "84", "93"}},
	{"M14", "8.8", [4]string{"62.0", "60.6", "59.1", "57.5"}, [4]string{"100", "117", "133", "148"}},
	{"M16", "8.8", [4]string{"84.7", "82.9", "80.9", "78.8"}, [4]string{"153", "180", "206", "230"}},
	{"M18", "8.8", [4]string{"107", "104", "102", "99"}, [4]string{"220", "259", "295", "329"}},
	{"M20", "8.8", [4]string{"136", "134", "130", "127"}, [4]string{"308", "363", "415", "464"}},
	{"M8x1", "8.8", [4]string{"21.2", "20.7", "20.2", "19.7"}, [4]string{"19.3", "22.8", "26.1", "29.2"}},
	{"M10x1.25", "8.8", [4]string{"33.1", "32.4", "31.6", "30.8"}, [4]string{"38", "44", "51", "57"}},
	{"M12x1.25", "8.8", [4]string{"50.1", "49.1", "48.0", "46.8"}, [4]string{"66", "79", "90", "101"}},
	{"M12x1.5", "8.8", [4]string{"47.6", "46.6", "45.5", "44.3"}, [4]string{"64", "76", "87", "97"}},
	{"M16x1.5", "8.8", [4]string{"91.4", "89.6", "87.6", "85.5"}, [4]string{"159", "189", "218", "244"}},
}

// Every figure of these is within half its printed digit, but for those said here with what comes out:
// M14, whose table wants another ring under its head (see the fine-thread table), and one of M5, a
// digit away from its own neighbours' ratio and perhaps misremembered.
func TestCurrentTablesOfVDI2230(t *testing.T) {
	missed := map[string]string{
		"M5 8.8 at 0.12, 5.9 N·m":  "5.8423",
		"M14 8.8 at 0.12, 133 N·m": "133.53",
		"M14 8.8 at 0.14, 148 N·m": "148.66",
	}
	figures := 0
	for _, row := range vdiCurrent {
		for i, mu := range []float64{0.08, 0.10, 0.12, 0.14} {
			j := jointOf(t, row.thread, row.class, mu)
			preload, err := j.PreloadAt(0.9)
			if err != nil {
				t.Fatal(err)
			}
			torque, err := j.Torque(preload)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range []struct {
				what    string
				got     float64
				printed string
			}{{"kN", preload / 1000, row.kN[i]}, {"N·m", torque, row.nm[i]}} {
				figures++
				if math.Abs(c.got-number(t, c.printed)) <= halfDigit(c.printed)+1e-9 {
					continue
				}
				name := fmt.Sprintf("%s %s at %.2f, %s %s", row.thread, row.class, mu, c.printed, c.what)
				if now := Digits(c.got, 5); missed[name] != now {
					t.Errorf("%s: %s, not within half a digit; the list has %q", name, now, missed[name])
				}
				delete(missed, name)
			}
		}
	}
	for name := range missed {
		t.Errorf("%s is reached; take it off the list", name)
	}
	t.Logf("%d figures", figures)
}

func TestFiguresHaveNoExponent(t *testing.T) {
	for want, v := range map[string]float64{"1120": 1124.6, "1000": 1000, "24.5": 24.49, "8": 8, "0.123": 0.12345} {
		if got := Digits(v, 3); got != want {
			t.Errorf("%v prints as %s, want %s", v, got, want)
		}
	}
}

// What a turn rests on is said: the moduli, and what the bolt is screwed into.
func TestATurnSaysWhatThePartsAreOf(t *testing.T) {
	j := jointOf(t, "M10", "10.9", 0.12)
	grip := Grip{LengthMM: 60, PartsGPa: 70, Tapped: true, HoleGPa: 110}
	soft, err := j.Turn(grip, 20, 30)
	if err != nil {
		t.Fatal(err)
	}
	grip.PartsGPa = 0
	stiff, err := j.Turn(grip, 20, 30)
	if err != nil {
		t.Fatal(err)
	}
	if soft.PreloadN >= stiff.PreloadN {
		t.Errorf("parts of 70 GPa take %.0f N, of steel %.0f N: softer parts must take less", soft.PreloadN, stiff.PreloadN)
	}
	for _, c := range []struct {
		said []string
		want string
	}{{soft.Assumptions, "tapped hole of 110 GPa; grip 60 mm, plain shank not given: 24 mm assumed, the band holds 0 to 48 mm; clamped parts of 70 GPa"}, {stiff.Assumptions, "clamped parts of 205 GPa"}} {
		if !strings.Contains(strings.Join(c.said, "\n"), c.want) {
			t.Errorf("assumptions %q do not say %q", c.said, c.want)
		}
	}
}

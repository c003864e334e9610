package read

import (
	"strings"
	"testing"
	"time"

	"evenpull/spec"
)

// plainSheet says no more than it has to; fullSheet says all there is to say of the same things.
const plainSheet = `format = 1
[procedure]
name = "Close the case"
direction = "close"
source = "sheet 1"
[group.main]
thread = "M8x1.25"
torque = "20 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
[[part]]
name = "gasket"
[[callout]]
before = "Final"
kind = "tool"
say = "A lamp"
[[check]]
before = "Final"
measure = "end float"
max = "0.2 mm"
`

const fullSheet = `format = 1
[procedure]
name = "Close the case"
engine = "Osier 125 single"
direction = "close"
source = "sheet 2"
cautions = ["Support the case."]
[sealant]
name = "silicone"
work_time = "10m"
cure_time = "1h"
[group.main]
title = "case bolts"
thread = "M8x1.25"
class = "8.8"
nut = "8"
hand = "left"
friction = 0.13
into = "cast aluminium"
insert = "wire"
engagement = "16 mm"
grip = "40 mm"
shank = "20 mm"
waist = "6 mm"
waist_length = "10 mm"
bore = "3 mm"
cross_hole = "2 mm"
drive = "12 mm hex"
torque = "20.5 N·m"
one_use = true
with = [{ part = "washer", count = 2, one_use = true, number = "W1" }]
prep = "oil the threads"
prep_each = true
caution = "mind the seal"
number = "B1"
source = "table 3"
look_for = ["scores"]
condemn = ["necked"]
light = "it is hollow"
[group.main.at]
M1 = [0, 0]
M2 = [75, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "20.5 N·m"
order = "reverse"
because = "it draws down"
prepare = "wipe the heads"
caution = "slowly"
source = "table 4"
[[part]]
name = "gasket"
kind = "gasket"
count = 2
one_use = true
before = "Final"
where = "thin side out"
number = "G1"
caution = "no sealant"
look_for = ["tears"]
condemn = ["torn"]
measure = "thickness"
work = "cutting"
[[callout]]
before = "Final"
kind = "heat"
say = "A lamp"
to = "90 °C"
within = "1m"
[[check]]
before = "Final"
measure = "end float"
kind = "float"
min = "0.05 mm"
max = "0.3 mm"
wanted = "0.1 mm"
readings = 3
spread = "0.02 mm"
remedy = "fit another shim"
caution = "dial square"
source = "table 5"
of = ["gasket"]
no_restarts = ["M1"]
shim = { part = "gasket", stock = ["0.5 mm", "0.6 mm"], ends = 1 }
`

// everyKey is what the full sheet says otherwise than the plain one.
const everyKey = `the procedure, engine: now Osier 125 single
the procedure, source: was sheet 1, now sheet 2
new: caution Support the case.
new: the sealant
group main, class: now 8.8
group main, nut: now 8
group main, hand: was right, now left
group main, friction: now 0.13
group main, bore: now 3 mm
group main, drive: now 12 mm hex
group main, one_use: was no, now yes
group main, with: now 2 × washer, one-use
group main, prep: now oil the threads
group main, prep_each: was no, now yes
group main, caution: now mind the seal
group main, title: was main, now case bolts
group main, number: now B1 W1
group main, into: now cast aluminium
group main, engagement: now 16 mm
group main, grip: now 40 mm
group main, shank: now 20 mm
group main, waist: now 6 mm 10 mm
group main, insert: now wire
group main, cross_hole: now 2 mm
group main, light: now it is hollow
group main, source: now table 3
group main, look_for: now scores
group main, condemn: now necked
fastener M2, at: was 70, 0, now 75, 0
pass Final, caution: now slowly
pass Final, prepare: now wipe the heads
pass Final, figure of main: was torque 20 N·m, now torque 20.5 N·m
pass Final, order: was listed, now reverse
pass Final, because: now it draws down
pass Final, source: now table 4
callout callout-a-lamp, kind: was tool, now heat
callout callout-a-lamp, to: now 90 °C
callout callout-a-lamp, within: now 1 min
check end-float, kind: was direct, now float
check end-float, min: now 0.05 mm
check end-float, max: was 0.2 mm, now 0.3 mm
check end-float, wanted: now 0.1 mm
check end-float, spread: now 0.02 mm
check end-float, readings: was 1, now 3
check end-float, shim: now gasket, [0.5 mm 0.6 mm], at 1
check end-float, of: now gasket
check end-float, no_restarts: now M1
check end-float, caution: now dial square
check end-float, remedy: now fit another shim
check end-float, source: now table 5
part gasket, kind: was other, now gasket
part gasket, count: was 1, now 2
part gasket, one_use: was no, now yes
part gasket, when: now before Final
part gasket, where: now thin side out
part gasket, caution: now no sealant
part gasket, number: now G1
part gasket, look_for: now tears
part gasket, condemn: now torn
part gasket, measure: now thickness
part gasket, work: now cutting`

// Every key of a sheet lands where it is said of what it stands at.
func TestEveryKeyIsSaidOfItsOwn(t *testing.T) {
	plain, full := sheetFrom(t, plainSheet), sheetFrom(t, fullSheet)
	var got []string
	for _, c := range spec.Changes(plain, full) {
		got = append(got, c.Text())
	}
	if said := strings.Join(got, "\n"); said != everyKey {
		t.Errorf("got\n%s", said)
	}
	if s := full.Sealant; s.Name != "silicone" || s.WorkTime != 10*time.Minute || s.CureTime != time.Hour || plain.Sealant != nil {
		t.Errorf("sealant %+v", s)
	}
}

func sheetFrom(t *testing.T, text string) *spec.Procedure {
	t.Helper()
	p, problems := Procedure("x.toml", []byte(text))
	if p == nil {
		t.Fatal(problems.Errors())
	}
	return p
}

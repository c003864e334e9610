package report

import (
	"fmt"
	"math"
)

// Size of the drawn bolt map, in its own units (about a CSS pixel).
const (
	mapWidth    = 720.0
	mapHeight   = 460.0 // at most
	mapMargin   = 44.0  // room for the labels of the outermost
	mostLabels  = 150   // more fasteners than this carry no labels
	labelApart  = 22    // closer than this, labels would cover bolts
	countApart  = 64    // and closer than this, counts would
	pairsToTry  = 600   // up to here the nearest pair is looked for
	leastRadius = 2.5
	mostRadius  = 15.0
)

// drawing is the bolt map ready for SVG.
type drawing struct {
	Width, Height float64
	Bolts         []drawnBolt
	Labels        bool // ids are written at the bolts
	Counts        bool // and how many of their stages are confirmed
}

// drawnBolt is one fastener of the drawing: an empty ring, a ring with a
// wedge, or a disc, so that the three are told apart without colour.
type drawnBolt struct {
	ID, State, Progress string
	X, Y, R, Hole       float64
	Wedge               string // path of the part that is done
	LabelY, ProgressY   float64
}

// draw scales the fasteners' places to the drawing; y turns upside down, since
// SVG counts downwards.
func (s Sheet) draw() drawing {
	if len(s.Fasteners) == 0 {
		return drawing{}
	}
	left, right, low, high := s.extent()
	scale := min((mapWidth-2*mapMargin)/max(right-left, 1e-6), (mapHeight-2*mapMargin)/max(high-low, 1e-6))
	if right-left < 1e-6 && high-low < 1e-6 {
		scale = 1
	}
	apart := s.spacing(right-left, high-low) * scale
	r := max(leastRadius, min(mostRadius, 0.27*apart))
	d := drawing{Width: mapWidth, Height: round((high-low)*scale + 2*mapMargin), Labels: len(s.Fasteners) <= mostLabels && apart > labelApart, Counts: apart > countApart}
	for _, f := range s.Fasteners {
		x := round(mapWidth/2 + (f.X-(left+right)/2)*scale)
		y := round(mapMargin + (high-f.Y)*scale)
		d.Bolts = append(d.Bolts, drawBolt(f, x, y, round(r)))
	}
	return d
}

func drawBolt(f Fastener, x, y, r float64) drawnBolt {
	c := f.Count()
	b := drawnBolt{ID: f.ID, X: x, Y: y, R: r, State: "open", Progress: fmt.Sprintf("%d/%d", c.Confirmed, c.Of), LabelY: round(y - r - 4), ProgressY: round(y + r + 13)}
	if f.Hollow {
		b.Hole = round(r * 0.4)
	}
	switch {
	case c.Of == 0:
		b.State, b.Progress = "unused", ""
	case c.Confirmed == c.Of:
		b.State = "done"
	case c.Confirmed > 0:
		b.State, b.Wedge = "part", wedge(x, y, r, float64(c.Confirmed)/float64(c.Of))
	}
	return b
}

// wedge is the path of a share of a disc, clockwise from the top.
func wedge(x, y, r, share float64) string {
	turn := 2 * math.Pi * share
	large := 0
	if share > 0.5 {
		large = 1
	}
	return fmt.Sprintf("M%g %gV%gA%g %g 0 %d 1 %g %gZ", x, y, round(y-r), r, r, large, round(x+r*math.Sin(turn)), round(y-r*math.Cos(turn)))
}

func (s Sheet) extent() (left, right, low, high float64) {
	left, right, low, high = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, f := range s.Fasteners {
		left, right = min(left, f.X), max(right, f.X)
		low, high = min(low, f.Y), max(high, f.Y)
	}
	return left, right, low, high
}

// spacing is how far apart the fasteners stand, in mm: the nearest pair, or for
// many of them what an even spread would give.
func (s Sheet) spacing(w, h float64) float64 {
	n := len(s.Fasteners)
	if n > pairsToTry {
		return math.Sqrt(max(w, 1) * max(h, 1) / float64(n))
	}
	best := math.Inf(1)
	for i, a := range s.Fasteners {
		for _, b := range s.Fasteners[i+1:] {
			if d := math.Hypot(a.X-b.X, a.Y-b.Y); d > 1e-6 {
				best = min(best, d)
			}
		}
	}
	return best
}

func round(x float64) float64 { return math.Round(x*10) / 10 }

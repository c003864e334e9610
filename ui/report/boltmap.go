package report

import (
	"fmt"
	"math"
)

// The drawn bolt map is measured in mm on paper.
const (
	mostLabels  = 150  // more fasteners than this carry no labels
	pairsToTry  = 600  // up to here the nearest pair is looked for
	leastRadius = 0.4  // mm
	mostRadius  = 3.4  // mm
	leastNumber = 1.5  // mm of radius, for a number inside that can be read
	idSize      = 2.7  // mm of letter height, 7.7 pt
	figureSize  = 2.45 // mm, 7 pt
	letterWide  = 0.58 // of the letter height, on average; bold digits are 0.556
)

// drawing is the bolt map ready for SVG.
type drawing struct {
	Width, Height float64 // mm
	About         string  // of a map that stands alone: what it is of
	IDSize        float64
	FigureSize    float64
	Bolts         []drawnBolt
	Figures       bool // every bolt carries its final figure
}

// drawnBolt is one fastener of the drawing: an empty ring, a ring with a thick
// arc for the share that is done, or a disc, so that the three are told apart
// without colour. A hollow one has a second ring around it.
type drawnBolt struct {
	ID, State, Title string
	X, Y, R          float64
	Outer            float64 // radius of a hollow one's second ring, 0: solid
	Number           int     // 0: none
	NumberSize       float64
	Arc              *arc // the share that is done
	Label            *label
}

// draw scales the fasteners' places to at most width × height mm. SVG counts
// downwards, so y turns upside down.
func (s Sheet) draw(width, height float64) drawing {
	if len(s.Fasteners) == 0 {
		return drawing{}
	}
	d := drawing{Width: width, IDSize: idSize, FigureSize: figureSize}
	longest := 0.0
	for _, f := range s.Fasteners {
		longest = max(longest, wide(f.ID, idSize), wide(f.Final(), figureSize))
	}
	sides := max(mostRadius+1.5, min(longest/2+0.5, width/5))
	ends := mostRadius + 1.5 + idSize + figureSize
	left, right, low, high := s.extent()
	scale := min((width-2*sides)/max(right-left, 1e-6), (height-2*ends)/max(high-low, 1e-6))
	if right-left < 1e-6 && high-low < 1e-6 {
		scale = 1
	}
	d.Height = round((high-low)*scale + 2*ends)
	r := round(max(leastRadius, min(mostRadius, 0.3*s.spacing(right-left, high-low)*scale)))
	orders := s.Orders()
	for i, f := range s.Fasteners {
		x, y := round(width/2+(f.X-(left+right)/2)*scale), round(ends+(high-f.Y)*scale)
		d.Bolts = append(d.Bolts, drawBolt(f, orders[i], x, y, r))
	}
	if len(s.Fasteners) <= mostLabels {
		d.label(s.Fasteners)
	}
	return d
}

func drawBolt(f Fastener, order int, x, y, r float64) drawnBolt {
	c := f.Count()
	b := drawnBolt{ID: f.ID, X: x, Y: y, R: r, State: "open", Title: fmt.Sprintf("%s, number %d, %s, %d of %d stages confirmed", f.ID, order, f.Final(), c.Confirmed, c.Of)}
	if f.Hollow {
		b.Outer = round(r * 1.3)
	}
	if r >= leastNumber && order > 0 {
		b.Number, b.NumberSize = order, round(r*1.15)
		if order > 99 {
			b.NumberSize = round(r * 0.85)
		}
	}
	switch {
	case c.Of == 0:
		b.State, b.Title = "unused", f.ID+", not in this procedure"
	case c.Confirmed == c.Of:
		b.State = "done"
	case c.Confirmed > 0:
		b.State, b.Arc = "part", arcOf(x, y, r, float64(c.Confirmed)/float64(c.Of))
	}
	return b
}

// arc is a share of a circle, clockwise from its top: how high that is, whether it is
// more than half of the circle, and where it ends.
type arc struct {
	Top      float64
	Large    int
	ToX, ToY float64
}

func arcOf(x, y, r, share float64) *arc {
	turn := 2 * math.Pi * share
	large := 0
	if share > 0.5 {
		large = 1
	}
	return &arc{round(y - r), large, round(x + r*math.Sin(turn)), round(y - r*math.Cos(turn))}
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

func round(x float64) float64 { return math.Round(x*100) / 100 }

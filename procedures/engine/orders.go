package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Order is what was ordered of a row of the list to order.
type Order struct {
	At      time.Time `json:"at"`
	Count   int       `json:"count"`
	Arrived int       `json:"arrived"` // of these
	From    string    `json:"from,omitempty"`
	Price   string    `json:"price,omitempty"` // "12.50 EUR each", "50 EUR in all"

	cost      *Cost
	row       string
	name      string
	number    string
	cancelled int
}

// Due is how many are still to come.
func (o Order) Due() int { return o.Count - o.Arrived - o.cancelled }

// Cost is money spent or owed: for what was ordered, bought, or worked on outside.
type Cost struct {
	At     time.Time `json:"at"`
	What   string    `json:"what"`
	Count  int       `json:"count"`
	From   string    `json:"from,omitempty"` // to whom it goes
	Price  string    `json:"price"`          // as it was said: "12.50 EUR each", "50 EUR in all"
	Total  string    `json:"total"`
	amount Price
	order  time.Time
}

// Amount is the total with its currency.
func (c Cost) Amount() Price { return c.amount }

// asked is something wanted that no sheet asks for.
type asked struct {
	name, number string
	count        int
	why          string
}

// shop is what was said of buying, in the order of time.
type shop struct {
	asked   map[string]*asked // by row
	orders  []*Order
	costs   []*Cost
	advised []advice
	came    map[string]time.Time // by row: when something last arrived
}

// Facts of the events of buying.
const (
	countFact  = "count"
	numberFact = "number"
	fromFact   = "from"
	priceFact  = "price" // a Price, of one piece unless inAllFact says otherwise
	inAllFact  = "in_all"
)

// countOf is how many an event is about.
func countOf(ev walk.Event) int {
	if n, err := strconv.Atoi(ev.Facts[countFact]); err == nil && n > 0 {
		return min(n, mostArrived)
	}
	return 1
}

// wanted notes something that no sheet asks for, or more than they do.
func (f *folder) wanted(ev walk.Event) string {
	key := rowKey(ev.Facts[numberFact], ev.Piece)
	if f.shop.asked == nil {
		f.shop.asked = map[string]*asked{}
	}
	a := f.shop.asked[key]
	if a == nil {
		a = &asked{name: ev.Piece, number: ev.Facts[numberFact]}
		f.shop.asked[key] = a
	}
	a.count = min(a.count+countOf(ev), mostArrived)
	a.why = "asked for on " + ev.At.Format(time.DateOnly)
	if ev.Text != "" {
		a.why += ": " + ev.Text
	}
	return fmt.Sprintf("%d × %s wanted", countOf(ev), ev.Piece)
}

func (f *folder) ordered(ev walk.Event) string {
	n := countOf(ev)
	o := &Order{At: ev.At, Count: n, From: ev.Facts[fromFact], row: rowKey(ev.Facts[numberFact], ev.Piece), name: ev.Piece, number: ev.Facts[numberFact]}
	if o.cost = f.spent(ev, ev.Piece, n, o.From); o.cost != nil {
		o.Price = o.cost.Price
	}
	f.shop.orders = append(f.shop.orders, o)
	text := fmt.Sprintf("%d × %s ordered", n, ev.Piece)
	if o.From != "" {
		text += " from " + o.From
	}
	return text
}

// spent notes the price of an event, if it has one that can be read.
func (f *folder) spent(ev walk.Event, what string, n int, from string) *Cost {
	p, err := ParsePrice(ev.Facts[priceFact])
	if err != nil {
		return nil
	}
	c := &Cost{At: ev.At, What: what, Count: n, From: from, Price: p.Text() + " each", amount: p.times(n), order: f.now}
	switch {
	case n == 1:
		c.Price = p.Text()
	case ev.Facts[inAllFact] != "":
		c.Price, c.amount = p.Text()+" in all", p
	}
	f.shop.costs = append(f.shop.costs, c)
	return c
}

// cameIn counts what arrived against what is on order, the oldest order first.
func (f *folder) cameIn(ev walk.Event, n int) {
	key := rowKey(ev.Facts[numberFact], ev.Piece)
	if f.shop.came == nil {
		f.shop.came = map[string]time.Time{}
	}
	f.shop.came[key] = ev.At
	f.spent(ev, ev.Piece, n, ev.Facts[fromFact])
	for _, o := range f.shop.orders {
		if o.isOf(key, ev.Piece) {
			took := min(n, o.Due())
			o.Arrived, n = o.Arrived+took, n-took
		}
	}
}

func (o *Order) isOf(key, name string) bool { return o.row == key || strings.EqualFold(o.name, name) }

// cancelled takes back what is on order and has not come, and is then not paid
// for; or, where nothing is on order, what was asked for.
func (f *folder) cancelled(ev walk.Event) string {
	key := rowKey(ev.Facts[numberFact], ev.Piece)
	n := 0
	for _, o := range f.shop.orders {
		if due := o.Due(); due > 0 && o.isOf(key, ev.Piece) {
			n, o.cancelled = n+due, o.cancelled+due
			o.cost.without(due, o.Arrived == 0)
		}
	}
	if a := f.shop.asked[key]; n == 0 && a != nil {
		n = a.count - f.arrived[key]
		a.count = min(a.count, f.arrived[key])
		return fmt.Sprintf("%d × %s not wanted any more: %s", n, ev.Piece, ev.Text)
	}
	return fmt.Sprintf("order of %d × %s cancelled: %s", n, ev.Piece, ev.Text)
}

// without takes pieces off a cost that was said by the piece, or for all of them
// once none is left.
func (c *Cost) without(n int, none bool) {
	switch {
	case c == nil:
	case none:
		c.Count, c.amount = 0, c.amount.times(0)
	case strings.HasSuffix(c.Price, " each"):
		each, _ := ParsePrice(strings.TrimSuffix(c.Price, " each"))
		c.Count -= n
		c.amount = each.times(c.Count)
	}
}

// askedFor are the needs that no sheet has.
func (f *folder) askedFor() []need {
	var list []need
	for key, a := range f.shop.asked {
		if a.count > 0 {
			list = append(list, need{piece{name: "asked for " + key}, a.name, a.number, a.count, a.why})
		}
	}
	slices.SortFunc(list, func(a, b need) int { return cmp.Compare(a.piece.name, b.piece.name) })
	return list
}

// onOrder puts the orders to their rows; what is on its way and not needed any
// more keeps a row of its own.
func (e *Engine) onOrder(f *folder) {
	for _, o := range f.shop.orders {
		i := slices.IndexFunc(e.Buy, func(b Buy) bool { return o.isOf(rowKey(b.Number, b.Name), b.Name) })
		if i < 0 && o.Due() == 0 {
			continue
		}
		if i < 0 {
			i = len(e.Buy)
			e.Buy = append(e.Buy, Buy{Name: o.name, Number: o.number, Why: []string{"not needed any more"}, Things: []string{}})
		}
		b := &e.Buy[i]
		if b.Ordered += o.Due(); o.Due() > 0 || b.Arrived > 0 {
			b.Orders = append(b.Orders, *o)
		}
	}
	for i := range e.Buy {
		b := &e.Buy[i]
		if at, ok := f.shop.came[rowKey(b.Number, b.Name)]; ok && b.Arrived > 0 {
			b.Came = &at
		}
	}
	e.costs(f.shop.costs)
}

// costs lists what was spent, and the totals by currency, in the order they first
// come up.
func (e *Engine) costs(list []*Cost) {
	by := map[string]int{}
	var totals []Price
	for _, c := range list {
		if c.Count == 0 {
			continue // cancelled
		}
		c.Total = c.amount.Text()
		e.Costs = append(e.Costs, *c)
		key := strings.ToLower(c.amount.currency)
		if i, ok := by[key]; ok {
			totals[i] = totals[i].plus(c.amount)
			continue
		}
		by[key] = len(totals)
		totals = append(totals, c.amount)
	}
	for _, p := range totals {
		e.Totals = append(e.Totals, p.Text())
	}
}

// markBuying turns what is said of a row of the list to order into its event.
func (e Engine) markBuying(m Marking) (walk.Event, error) {
	b, err := e.row(m.Thing, m.Place)
	if m.Kind == record.Wanted {
		if t, off := e.thing(m.Thing, m.Place, m.fits); err != nil && off == nil {
			b, err = Buy{Name: t.Name, Number: t.Number}, nil
		}
		if err != nil {
			return walk.Event{}, fmt.Errorf("%w; something no sheet has is asked for with NEW: %s", err, shell.Line("mark", []string{e.Tag, "NEW", m.Thing, "wanted"}))
		}
	}
	if err != nil {
		return walk.Event{}, err
	}
	if m.Kind != record.Arrived && (m.Count < 0 || m.Count > mostArrived) {
		return walk.Event{}, fmt.Errorf("%d is no count of %s; write --count 1 to %d", m.Count, b.Name, mostArrived)
	}
	ev := walk.Event{Kind: m.Kind, Piece: b.Name, Facts: map[string]string{}}
	if b.Number != "" {
		ev.Facts[numberFact] = b.Number
	}
	switch m.Kind {
	case record.Cancelled:
		return e.markCancelled(b, m, ev)
	case record.Wanted:
		m.Count, ev.Text = max(m.Count, 1), m.Because
	case record.Ordered:
		if m.Count == 0 {
			m.Count = b.ToOrder()
		}
		if m.Count == 0 {
			return ev, fmt.Errorf("nothing is left to order of %s; say how many more: --count 1", b.Name)
		}
	case record.Arrived:
		if m.Count, err = b.mayArrive(m.Count); err != nil {
			return ev, err
		}
		ev.Number = m.Number
	}
	ev.Facts[countFact] = strconv.Itoa(m.Count)
	if m.From != "" {
		ev.Facts[fromFact] = m.From
	}
	return ev, priced(b, m, ev)
}

// mayArrive is how many arrive, 0 standing for all that are missing.
func (b Buy) mayArrive(n int) (int, error) {
	most := max(b.Missing(), b.Ordered)
	switch {
	case most == 0:
		return 0, fmt.Errorf("%d × %s, all that is needed, have arrived already", b.Count, b.Name)
	case n < 0 || n > most:
		return 0, fmt.Errorf("%d × %s cannot have arrived for this engine: %d are still to come; write --count 1 to %d", n, b.Name, most, most)
	case n == 0:
		return most, nil
	}
	return n, nil
}

// priced keeps the price of what is ordered or bought. One that may be of a piece
// or of all of them is asked back.
func priced(b Buy, m Marking, ev walk.Event) error {
	if m.Price == "" {
		return nil
	}
	for _, o := range b.Orders {
		if m.Kind == record.Arrived && o.Due() > 0 && o.Price != "" {
			return fmt.Errorf("the price of %s was given when it was ordered, on %s: %s; leave --price out", b.Name, o.At.Format(time.DateOnly), o.Price)
		}
	}
	figure, each := strings.CutSuffix(strings.TrimSpace(m.Price), " each")
	figure, inAll := strings.CutSuffix(figure, " in all")
	p, err := ParsePrice(figure)
	switch {
	case err != nil:
		return err
	case m.Count > 1 && !each && !inAll:
		return fmt.Errorf("%s for %d × %s: each, or in all? write --price %q or --price %q", p.Text(), m.Count, b.Name, p.Text()+" each", p.Text()+" in all")
	}
	if ev.Facts[priceFact] = p.Text(); inAll && m.Count > 1 {
		ev.Facts[inAllFact] = "yes"
	}
	return nil
}

func (e Engine) markCancelled(b Buy, m Marking, ev walk.Event) (walk.Event, error) {
	if ev.Text = m.Because; ev.Text == "" {
		return ev, fmt.Errorf("what is cancelled needs a reason; add --because REASON")
	}
	if b.Ordered == 0 && !b.asked {
		return ev, fmt.Errorf("%s is not on order", b.Name)
	}
	return ev, nil
}

// MarkedEach gives the events of one marking of several things. What several of
// them are in one row of the list to order is said of the row once.
func (e Engine) MarkedEach(things []string, m Marking) ([]walk.Event, error) {
	if price := strings.TrimSpace(m.Price); len(things) > 1 && price != "" && !strings.HasSuffix(price, " each") {
		return nil, fmt.Errorf("%s for several things: write --price %q if it is that for each piece, or mark them one by one", price, strings.TrimSuffix(price, " in all")+" each")
	}
	var events []walk.Event
	for _, name := range things {
		m.Thing = name
		list, err := e.Marked(m)
		if err != nil {
			return nil, err
		}
		for _, ev := range list {
			if slices.ContainsFunc(events, func(o walk.Event) bool {
				return o.Kind == ev.Kind && o.Item == ev.Item && o.Fastener == ev.Fastener && strings.EqualFold(o.Piece, ev.Piece) && sameFacts(o, ev, threadFact, numberFact, record.Place)
			}) {
				continue
			}
			events = append(events, ev)
			if ev.Kind == walk.Found {
				e.Off = append(slices.Clip(e.Off), Thing{Thing: ledgerThing(ev), Name: ev.Facts[walk.NewName], Count: 1, New: true})
			}
		}
	}
	return events, nil
}

// isBuying tells what is said of a row of the list to order from what is said of a
// thing that is off.
func isBuying(k walk.Kind) bool {
	return k == record.Wanted || k == record.Ordered || k == record.Arrived || k == record.Cancelled
}

// markedNew asks for something no sheet has, and says what became of it at once.
func (e Engine) markedNew(m Marking) ([]walk.Event, error) {
	name := strings.TrimSpace(m.Thing)
	if name == "" {
		return nil, fmt.Errorf("the thing has no name; write it like: %s", shell.Line("mark", []string{e.Tag, "NEW", "grinding paste", "wanted"}))
	}
	if b, err := e.row(name, ""); err == nil {
		return nil, fmt.Errorf("%s is on the list to order already; leave NEW out", b.Name)
	}
	if m.Kind == record.Cancelled {
		return nil, fmt.Errorf("%q is not on the list to order; there is nothing to cancel", spec.Printable(name))
	}
	b := Buy{Name: name, Count: max(m.Count, 1), asked: true, Things: []string{}}
	e.Buy = append(slices.Clip(e.Buy), b)
	want, err := e.markBuying(Marking{Thing: name, Kind: record.Wanted, Count: b.Count, Because: m.Because})
	if err != nil || m.Kind == record.Wanted {
		return []walk.Event{want}, err
	}
	m.Thing = name
	ev, err := e.markBuying(m)
	return []walk.Event{want, ev}, err
}

func sameFacts(a, b walk.Event, keys ...string) bool {
	return !slices.ContainsFunc(keys, func(k string) bool { return a.Facts[k] != b.Facts[k] })
}

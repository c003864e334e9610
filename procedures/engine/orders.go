package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenpull/procedures/walk"
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
	exact, near := f.shop.ordersOf(key, ev)
	for _, o := range slices.Concat(exact, near) {
		took := min(n, o.Due())
		o.Arrived, n = o.Arrived+took, n-took
	}
}

// ordersOf are the orders of a row, and those that may be of it: of its name, where one
// of the two has no part number.
func (s shop) ordersOf(key string, ev walk.Event) (exact, near []*Order) {
	for _, o := range s.orders {
		switch {
		case o.row == key:
			exact = append(exact, o)
		case o.mayBe(ev.Facts[numberFact], ev.Piece):
			near = append(near, o)
		}
	}
	return exact, near
}

// mayBe: a row may have been given its number, or lost it, since it was ordered from.
func (o *Order) mayBe(number, name string) bool {
	return (o.number == "" || number == "") && strings.EqualFold(o.name, name)
}

// cancelled takes back what is on order and has not come, and is then not paid
// for; or, where nothing is on order, what was asked for.
func (f *folder) cancelled(ev walk.Event) string {
	key := rowKey(ev.Facts[numberFact], ev.Piece)
	exact, near := f.shop.ordersOf(key, ev)
	n := cancel(exact)
	if n == 0 {
		n = cancel(near)
	}
	if a := f.shop.asked[key]; n == 0 && a != nil {
		n = a.count - f.arrived[key]
		a.count = min(a.count, f.arrived[key])
		return fmt.Sprintf("%d × %s not wanted any more: %s", n, ev.Piece, ev.Text)
	}
	return fmt.Sprintf("order of %d × %s cancelled: %s", n, ev.Piece, ev.Text)
}

// cancel takes back what is to come of orders, and gives how many that is.
func cancel(orders []*Order) (n int) {
	for _, o := range orders {
		if due := o.Due(); due > 0 {
			n, o.cancelled = n+due, o.cancelled+due
			o.cost.without(due, o.Arrived == 0)
		}
	}
	return n
}

// without takes pieces off a cost that was said by the piece, or for all of them
// once none is left.
func (c *Cost) without(n int, none bool) {
	switch {
	case c == nil:
	case none:
		c.Count = 0
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
		i := slices.IndexFunc(e.Buy, func(b Buy) bool { return rowKey(b.Number, b.Name) == o.row })
		if i < 0 {
			i = slices.IndexFunc(e.Buy, func(b Buy) bool { return o.mayBe(b.Number, b.Name) })
		}
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

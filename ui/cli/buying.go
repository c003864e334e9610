package cli

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/engine"
)

// buyLines gives the rows of the list to order by where they stand.
func buyLines(list []engine.Buy) (order, coming, shelf []string) {
	for _, b := range list {
		switch buyState(b) {
		case "to order":
			order = append(order, buyLine(b))
		case "on order":
			coming = append(coming, buyLine(b))
		default:
			shelf = append(shelf, buyLine(b))
		}
	}
	return order, coming, shelf
}

func buyState(b engine.Buy) string {
	switch {
	case b.ToOrder() > 0:
		return "to order"
	case b.Ordered > 0:
		return "on order"
	}
	return "arrived"
}

// buyLine gives a row of the list to order: "2 × sealing washer, 380-11-112, for F1:
// one-use; 2 ordered 2026-03-01 from the parts counter, 12.50 EUR each".
func buyLine(b engine.Buy) string {
	text := fmt.Sprintf("%d × %s", b.Count, b.Name)
	if b.Number != "" {
		text += ", " + b.Number
	}
	const few = 6
	if things := b.Things; len(things) > few {
		text += fmt.Sprintf(", for %s and %d more", strings.Join(things[:few], " "), len(things)-few)
	} else if len(things) > 0 {
		text += ", for " + strings.Join(things, " ")
	}
	if b.Arrived > 0 {
		text += fmt.Sprintf(", %d arrived", b.Arrived)
		if len(b.Batches) > 0 {
			text += " (" + strings.Join(b.Batches, ", ") + ")"
		}
		if b.Came != nil {
			text += " " + b.Came.Format(time.DateOnly)
		}
	}
	text += ": " + strings.Join(b.Why, "; ")
	for _, o := range b.Orders {
		text += "; " + orderText(o)
	}
	return text
}

// orderText says when, from whom and at what price something was ordered.
func orderText(o engine.Order) string {
	text := fmt.Sprintf("%d ordered %s", o.Count, o.At.Format(time.DateOnly))
	if o.From != "" {
		text += " from " + o.From
	}
	if o.Price != "" {
		text += ", " + o.Price
	}
	if o.Due() > 0 && o.Arrived > 0 {
		text += fmt.Sprintf(", %d still to come", o.Due())
	}
	return text
}

func costLine(c engine.Cost) string {
	text := fmt.Sprintf("%s: %d × %s", c.At.Format(time.DateOnly), c.Count, c.What)
	if c.From != "" {
		text += ", " + c.From
	}
	if c.Price != c.Total {
		text += ", " + c.Price
	}
	return text + ": " + c.Total
}

package bolt

import (
	"math"
	"testing"

	"evenpull/spec/quantity"
)

// The inch and the pound of the thread and class tables are those of quantity.
func TestFactorsAreThoseOfQuantity(t *testing.T) {
	if inchMM != quantity.Inch.Size() {
		t.Errorf("an inch is %v mm here, %v there", inchMM, quantity.Inch.Size())
	}
	if ksi := 1000 * quantity.PoundPerSquareInch.Size() / quantity.Megapascal.Size(); math.Abs(ksi-ksiMPa) > 1e-12 {
		t.Errorf("a ksi is %v MPa here, %v there", ksiMPa, ksi)
	}
}

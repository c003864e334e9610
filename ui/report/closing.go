package report

// ClosingShows says what the closing hash can show, and what it cannot.
const ClosingShows = "The SHA-256 of the record's last line; each line holds the hash of the one before. " +
	"By itself the chain cannot show that last lines were cut off or that the whole record was written anew. " +
	"A copy of this hash on paper can: hold it against the file."

// Responsible is what the signature stands under.
const Responsible = "The engine's own service manual governs. Computed figures are estimates. This page says what was recorded; it does not say that the work is right. " +
	"The person who signs has done or seen the work above, and is responsible for it and for what is made of it."

// notDone goes before the signature of a joint that is not done.
const notDone = "THIS JOINT IS NOT DONE. A signature stands only for what is shown as confirmed. "

// Declaration is the wording above the signature.
func (s Sheet) Declaration() string {
	if s.State != "done" {
		return notDone + Responsible
	}
	return Responsible
}

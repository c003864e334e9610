package report

import (
	"encoding/json"
	"io"
)

// WriteJSON writes the sheet as one JSON document. Lists are never null.
func WriteJSON(w io.Writer, s Sheet) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(s)
}

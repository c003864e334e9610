package spec

import _ "embed"

// Schema is the procedure file as a JSON Schema (draft 7), for editors. Reading
// a file does not use it.
//
//go:embed procedure.schema.json
var Schema string

package cli

import (
	"testing"

	"evenpull/procedures/record"
)

// Who knows of one signature only is told the best there is, and never that a bad one
// is good.
func TestOneSignatureOfSeveralInJSON(t *testing.T) {
	good := record.Signed{File: "a.sig", KeyType: "ssh-ed25519", Fingerprint: "SHA256:good", Holds: true}
	bad := record.Signed{File: "b.sig", KeyType: "ssh-ed25519", Fingerprint: "SHA256:bad", Fault: "it does not"}
	none := record.Signed{File: "c.sig", Fault: "it is none"}
	for want, list := range map[string][]record.Signed{"SHA256:good": {none, bad, good}, "SHA256:bad": {none, bad}, "": {none}} {
		v := verifiedJSON(&record.Report{Signed: list}, nil)
		if len(v.Signatures) != len(list) || (v.Signed == nil) != (want == "") || v.Signed != nil && (v.Signed.Fingerprint != want || v.Signed.Holds != (want == "SHA256:good")) {
			t.Errorf("of %d %+v is told, want %q", len(list), v.Signed, want)
		}
	}
}

package intake

import (
	"strings"

	"threeply/proof/scan"
	"threeply/proof/session"
)

// ChosenEncoding is how a person had the codes of a source's scan read, as scan.Options
// take it, "" where the scan said it or it was assumed: so the same scan is read the same
// way again.
func ChosenEncoding(src *session.Source) string {
	if chosen, ok := strings.CutSuffix(src.Encoding, scan.AsChosen); ok && src.Scan.Known == string(scan.Chosen) {
		return chosen
	}
	return ""
}

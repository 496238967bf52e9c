package model

import (
	"testing"

	"threeply/proof/session"
	"threeply/proof/tone"
)

// A plate's base and fog are those of the rebate where it shows some, and it is said which;
// an encoding that a person chose is told as chosen.
func TestWhatIsSaidOfAPlate(t *testing.T) {
	on := platesOn{assign: [3]int{2, 1, 0}}
	for i := range on.sources {
		on.sources[i] = session.Source{W: 10, H: 10, Base: 0.3, Encoding: "linear", Film: tone.Film{Negative: true, White: 1.5, Black: 0.3, Gamma: 0.8}}
	}
	on.sources[2].Rebate = 0.2
	on.sources[1].Encoding, on.sources[1].Scan.Known = "gamma 2.2, as chosen", "chosen"
	plates := makePlates(on).Plates
	if red := plates[0]; red.Base != 0.2 || !red.FromRebate || red.ReadAs != "" {
		t.Errorf("with a rebate: %+v", red)
	}
	if green := plates[1]; green.Base != 0.3 || green.FromRebate || green.ReadAs != "gamma 2.2" {
		t.Errorf("with an encoding: %+v", green)
	}
}

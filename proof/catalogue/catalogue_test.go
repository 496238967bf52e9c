package catalogue

import (
	"strings"
	"testing"

	"threeply/proof/command"
	"threeply/proof/session"
	"threeply/proof/session/sessiontest"
)

// identified is a session of red.tif, green.tif and blue.tif after what a table says of it.
func identified(t *testing.T, table string) (session.State, error) {
	t.Helper()
	read, err := Read("table.csv", []byte(table))
	if err != nil {
		return session.State{}, err
	}
	s := sessiontest.Opened()
	all, err := read.Of(&s)
	h := command.NewHistory(s)
	for _, c := range all {
		if err := h.Do(c, ""); err != nil {
			t.Fatal(err)
		}
	}
	return h.State, err
}

func TestARowForASet(t *testing.T) {
	s, err := identified(t, "\ufeffGreen file,Accession number,Title,dc:creator,Shelf,red letter,Blue plate condition\r\n"+
		"x.tif,1,Other,Nobody,A,,\r\n"+
		"scans\\GREEN.TIF,1937.0412,\"Quay, \"\"noon\"\"\",Ida Marten,B,a,cracked\r\n")
	if err != nil {
		t.Fatal(err)
	}
	if s.Identity.Number != "1937.0412" || s.Title != `Quay, "noon"` || s.Identity.Creator != "Ida Marten" || s.PlateIdentities[0].Letter != "a" || s.PlateIdentities[2].Condition != "cracked" || s.PlateIdentities[1] != (session.PlateIdentity{}) {
		t.Errorf("%q, %+v, %+v", s.Title, s.Identity, s.PlateIdentities)
	}
	read, err := Read("table.csv", []byte("file;Shelf;title\n"))
	if err != nil || len(read.Unknown) != 1 || read.Unknown[0] != "Shelf" {
		t.Errorf("%q (%v)", read.Unknown, err)
	}
}

func TestARowForAPlate(t *testing.T) {
	s, err := identified(t, "sha256;letter;condition;number\n"+
		strings.Repeat("a", 64)+";a;cleaned;7\n"+strings.Repeat("B", 64)+";b;;7\n"+strings.Repeat("f", 64)+";z;;9\n")
	if err != nil || s.Identity.Number != "7" || s.PlateIdentities[0] != (session.PlateIdentity{Letter: "a", Condition: "cleaned"}) || s.PlateIdentities[1].Letter != "b" {
		t.Errorf("%+v, %+v (%v)", s.Identity, s.PlateIdentities, err)
	}
}

func TestRefused(t *testing.T) {
	for want, table := range map[string]string{
		"holds no table":              "",
		"no column names the scans":   "title,number\nx,1\n",
		"no row names a scan":         "file,number\nother.tif,1\n",
		"lines 2 and 3 say different": "file,number\nred.tif,1\nblue.tif,2\n",
		"no text in UTF-8":            "\xff\xfef\x00",
		"it is no text in UTF-8":      "file,creator\nred.tif,M\xfcller\n",
		"line 3 has more values":      "file,title,creator\nother.tif,,\nred.tif,Sea, with boats,Ida Marten\n",
		"in lines 2 to 2 do not fit":  "file,title\nred.tif,\"Sunrise\" at sea\nblue.tif,Sunrise\n",
		"in lines 2 to 3 do not fit":  "file,title\nred.tif,\"Sunrise\nblue.tif,\"Sunset\"\n",
		"two columns hold the same":   "file,number,inventory\nred.tif,1,2\n",
	} {
		if _, err := identified(t, table); err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), "table.csv: ") {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

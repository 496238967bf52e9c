package flatbed

import (
	"fmt"
	"math"
	"slices"

	"threeply/proof/fit"
	"threeply/proof/fitness"
	"threeply/proof/scan"
	"threeply/proof/setter"
	"threeply/proof/stack"
	"threeply/proof/testsheet"
)

const (
	patchShare = 0.55  // of a patch's side that is looked at
	blown      = 65500 // a code from which on it may be cut off
	darkGround = 0.25  // share of light that black card gives at most, against the paper
	uneven     = 0.08  // share by which like patches may differ
	leastBits  = 12
	doubtful   = 0.018 // error of a scanner from which on automatics are suspected (assumed)

	mirroredBetter = 0.5 // share of the strays that a sheet read mirrored must have at most, as package fit asks of texts

	leastUneven = 0.005 // share of the light by which it must differ to be told
)

// Read reads a test sheet off a scan, by the target on it, as readings that package fit goes on
// with; or off two, the second with the sheet turned, which are averaged and tell what the scanner
// itself makes uneven. recipe is what the sheet is taken to print, by which it is known which way
// up it lies. A target without Corners is looked for; what cannot be found for certain is an error.
func Read(scans []*scan.Scan, target *Target, sheet testsheet.Sheet, recipe stack.Recipe) (*fit.Readings, *Scanner, error) {
	var all []*looked
	for i, s := range scans {
		of, pointed := "", *target
		var scanner *Scanner
		if i > 0 { // pointed at in the first alone
			of, scanner, pointed.Corners = fmt.Sprintf("scan %d: ", i+1), all[0].scanner, [3][2]float64{}
		}
		l, err := look(s, &pointed, sheet, recipe, scanner)
		if err != nil {
			return nil, nil, fmt.Errorf("%s%w", of, err)
		}
		all = append(all, l)
	}
	read, err := densitiesOfSheet(sheet, all)
	return read, all[0].scanner, err
}

// looked is what one scan tells of the sheet: shares of the light, by patch, as if it were even.
type looked struct {
	scanner *Scanner
	seen    map[string][3]float64
	even    *evenness
	notes   []string
	mind    []string
}

// look reads one scan. Where no target is found for certain on it, scanner stands for it, if given.
func look(s *scan.Scan, target *Target, sheet testsheet.Sheet, recipe stack.Recipe, scanner *Scanner) (*looked, error) {
	if s.Channels != 3 {
		return nil, fmt.Errorf("the scan is grey; scan in colour")
	}
	if s.Step > 0 {
		return nil, fmt.Errorf("the scan is a JPEG, which does not keep what was scanned; save it as 16-bit TIFF")
	}
	where, err := locate(s, sheet)
	if err != nil {
		return nil, err
	}
	w, h := sheetSize(sheet)
	out := &looked{}
	if target.Corners == ([3][2]float64{}) {
		found, ok := target.Find(s, &Lying{where, w, h})
		switch {
		case ok && found.Sure:
			target.Corners = found.Corners
		case scanner != nil:
			out.scanner = scanner
		case !ok:
			return nil, fmt.Errorf("there is no room for a target beside the sheet; scan sheet and target together")
		default:
			if p := cutOffPatch(s, where, sheet); p != "" { // which is why
				return nil, errCutOff(p)
			}
			c := found.Corners
			return nil, fmt.Errorf("the target is not found for certain; if it lies on the scan, and these are its own reference values, point at it, or say -target-at %.0f,%.0f,%.0f,%.0f,%.0f,%.0f if that is where; else scan sheet and target together", c[0][0], c[0][1], c[1][0], c[1][1], c[2][0], c[2][1])
		}
	}
	if out.scanner == nil {
		given, err := target.light(s)
		if err != nil {
			return nil, err
		}
		patches, turned := target.arranged(given)
		if out.scanner, err = characterise(patches, given); err != nil {
			return nil, err
		}
		if turned != "" {
			out.notes = append(out.notes, turned)
		}
		flare := out.scanner.Flare
		out.notes = append(out.notes, fmt.Sprintf("The scanner was found by the target's %d patches: those left out of it come within %.3f in density; flare %.1f %%.", len(patches), out.scanner.Error, 100*max(flare[0], flare[1], flare[2])))
	}
	if out.scanner.Error > doubtful {
		out.mind = append(out.mind, "The scanner is not well told by the target: automatics may have been left on (colour, contrast, sharpening, dust). Scan again with all of them off.")
	}
	least := math.Inf(1)
	flipped, mirrored := where.mirrored(w), false
	for way, p := range []place{where, where.turned(w, h), flipped, flipped.turned(w, h)} { // the marks do not tell which
		seen, even, err := shares(s, p, out.scanner, sheet)
		if err != nil {
			return nil, err
		}
		one := &looked{scanner: out.scanner, seen: seen, even: even}
		read, err := densitiesOfSheet(sheet, []*looked{one})
		if err != nil {
			return nil, err
		}
		better := 1.0
		if way > 1 && !mirrored { // is not believed lightly
			better = mirroredBetter
		}
		if off := read.Strays(&sheet, recipe); out.seen == nil || off < better*least {
			out.seen, out.even, least, mirrored = seen, even, off, way > 1
		}
	}
	if mirrored {
		out.mind = append(out.mind, "The sheet is mirrored against its plan; it was read as it lies.")
	}
	bits := s.Bits
	if unit := fitness.CodesOf(s.Planes[1], [4]int{0, 0, s.W, s.H}).Unit; unit > 0 && unit%257 == 0 {
		bits = min(bits, 8) // brought to 16
	}
	if bits < leastBits {
		out.notes = append(out.notes, fmt.Sprintf("The scan has %d bits a channel; 16 tell more of the dark patches.", bits))
	}
	return out, nil
}

func sheetSize(sheet testsheet.Sheet) (w, h float64) {
	_, middle := setter.TestPlaces(sheet)
	end := middle(testsheet.Patch{Row: sheet.Rows - 1, Col: sheet.Cols - 1})
	begin := middle(testsheet.Patch{})
	return begin[0] + end[0], begin[1] + end[1]
}

// shares are those of the light that the patches of a sheet that lies somewhere give back, made
// even.
func shares(s *scan.Scan, at place, scanner *Scanner, sheet testsheet.Sheet) (map[string][3]float64, *evenness, error) {
	_, middle := setter.TestPlaces(sheet)
	mm := at.pixelsPerMM()
	reflected := func(light [3]float64) (r [3]float64) {
		for ch := range r {
			r[ch] = scanner.Reflected(ch, light[ch])
		}
		return r
	}
	even := evennessOf(sheet, func(u, v, side float64) ([3]float64, bool) {
		x, y := at.at(u, v)
		light, _, ok := sample(s, x, y, side*mm)
		return reflected(light), ok
	})
	seen := map[string][3]float64{}
	for _, p := range sheet.Patches {
		m := middle(p)
		x, y := at.at(m[0], m[1])
		light, codes, ok := sample(s, x, y, patchShare*setter.PatchSide*mm)
		if !ok {
			return nil, nil, fmt.Errorf("patch %s of the sheet lies outside of the scan; scan the whole sheet", p.ID)
		}
		if cutOff(codes) {
			return nil, nil, errCutOff(p.ID)
		}
		r := reflected(light)
		for ch := range r {
			r[ch] /= even.light(ch, m[0], m[1])
		}
		seen[p.ID] = r
	}
	return seen, even, nil
}

// cutOffPatch is the first patch of a sheet that is cut off to black or white, "" for none.
func cutOffPatch(s *scan.Scan, at place, sheet testsheet.Sheet) string {
	_, middle := setter.TestPlaces(sheet)
	for _, p := range sheet.Patches {
		m := middle(p)
		x, y := at.at(m[0], m[1])
		if _, codes, ok := sample(s, x, y, patchShare*setter.PatchSide*at.pixelsPerMM()); ok && cutOff(codes) {
			return p.ID
		}
	}
	return ""
}

func errCutOff(patch string) error {
	return fmt.Errorf("patch %s of the sheet is cut off to black or white; scan again with all automatics off, and without a black or a white point", patch)
}

// densitiesOfSheet are the mean densities of one scan or several.
func densitiesOfSheet(sheet testsheet.Sheet, all []*looked) (*fit.Readings, error) {
	out := map[string]fit.Density{}
	differ, n := 0.0, 0.0
	part := 1 / float64(len(all))
	for _, p := range sheet.Patches {
		if p.Ground == testsheet.Dark && !onBlack(sheet, all[0].seen) {
			continue
		}
		var d fit.Density
		for ch := range d.D {
			for _, l := range all {
				r := l.seen[p.ID][ch]
				d.D[ch] -= part * math.Log10(r)
				d.Sigma[ch] += part * math.Hypot(math.Hypot(targetSigma, l.scanner.Error/2), darkSigma/r/math.Ln10)
			}
			for _, l := range all {
				off := -math.Log10(l.seen[p.ID][ch]) - d.D[ch]
				differ, n = differ+off*off, n+1
			}
		}
		out[p.ID] = d
	}
	read, err := fit.Scanned(&sheet, all[0].scanner.Status(), out)
	if err != nil {
		return nil, err
	}
	for i, l := range all {
		for _, words := range l.mind {
			if !slices.Contains(read.Mind, words) {
				read.Mind = append(read.Mind, words)
			}
		}
		of := ""
		if len(all) > 1 {
			of = fmt.Sprintf("Scan %d: ", i+1)
		}
		for _, note := range l.notes {
			read.Notes = append(read.Notes, of+note)
		}
		if l.even.Most > leastUneven {
			read.Notes = append(read.Notes, fmt.Sprintf("%sThe light over the sheet differed by up to %.1f %%, as the bare paper between the patches shows, and was evened out.", of, 100*l.even.Most))
		}
	}
	if len(all) > 1 {
		read.Notes = append(read.Notes, fmt.Sprintf("The two scans agree within %.3f in density; of the uneven light %.1f %% goes with the scanner, %.1f %% with the sheet.", 2*math.Sqrt(differ/n), 100*apart(sheet, all[0].even, all[1].even, -1), 100*apart(sheet, all[0].even, all[1].even, 1)))
	}
	if differ := spreadOf(sheet, all[0].seen); differ > 0 {
		note := fmt.Sprintf("The five like patches differ by %.1f %% in light at most.", 100*differ)
		if differ > uneven && len(all) == 1 {
			note += " Coat or scanner is uneven: scan the sheet once more, turned by a quarter, to tell which."
		}
		read.Notes = append(read.Notes, note)
	}
	return read, nil
}

// apart is half of what the light of two scans differs by at most over the sheet, as a share,
// with sign -1, and of what they have in common with 1.
func apart(sheet testsheet.Sheet, a, b *evenness, sign float64) (most float64) {
	_, middle := setter.TestPlaces(sheet)
	for _, p := range sheet.Patches {
		m := middle(p)
		for ch := range a.by {
			most = max(most, math.Abs(math.Log(a.light(ch, m[0], m[1]))+sign*math.Log(b.light(ch, m[0], m[1])))/2)
		}
	}
	return most
}

// onBlack tells whether the row on the dark ground lies on black.
func onBlack(sheet testsheet.Sheet, seen map[string][3]float64) bool {
	paper := 0.0
	for _, p := range sheet.Patches {
		if p.Bare() && p.Ground == testsheet.White {
			paper = max(paper, seen[p.ID][1])
		}
	}
	for _, p := range sheet.Patches {
		if p.Ground == testsheet.Dark && p.Bare() {
			return seen[p.ID][1] < darkGround*paper
		}
	}
	return false
}

// spreadOf is by how much the like patches differ from their mean at most, as a share of the
// light.
func spreadOf(sheet testsheet.Sheet, seen map[string][3]float64) (most float64) {
	var mean [3]float64
	n := 0.0
	for _, p := range sheet.Patches {
		if p.Use == testsheet.Repeat {
			for ch, v := range seen[p.ID] {
				mean[ch] += v
			}
			n++
		}
	}
	for _, p := range sheet.Patches {
		if p.Use == testsheet.Repeat {
			for ch, v := range seen[p.ID] {
				most = max(most, math.Abs(v*n/mean[ch]-1))
			}
		}
	}
	return most
}

package flatbed

import (
	"fmt"
	"math"

	"threeply/proof/fit"
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
)

// Read reads a test sheet off a scan, by the target on it, as readings that package fit goes on
// with. recipe is what the sheet is taken to print, by which it is known which way up it lies.
func Read(s *scan.Scan, target *Target, sheet testsheet.Sheet, recipe stack.Recipe) (*fit.Readings, *Scanner, error) {
	if s.Channels != 3 {
		return nil, nil, fmt.Errorf("the scan is grey; scan in colour")
	}
	if s.Step > 0 {
		return nil, nil, fmt.Errorf("the scan is a JPEG, which does not keep what was scanned; save it as 16-bit TIFF")
	}
	where, err := locate(s, sheet)
	if err != nil {
		return nil, nil, err
	}
	given, err := target.light(s)
	if err != nil {
		return nil, nil, err
	}
	patches, turned := target.arranged(given)
	scanner, err := characterise(patches, given)
	if err != nil {
		return nil, nil, err
	}
	w, h := sheetSize(sheet)
	var best *fit.Readings
	least := math.Inf(1)
	for _, p := range []place{where, where.turned(w, h)} { // the marks do not tell which way up
		read, err := readAt(s, p, scanner, sheet)
		if err != nil {
			return nil, nil, err
		}
		if off := read.Strays(&sheet, recipe); off < least {
			best, least = read, off
		}
	}
	if best == nil {
		return nil, nil, fmt.Errorf("nothing of the sheet was read")
	}
	if s.Bits < leastBits {
		best.Notes = append(best.Notes, fmt.Sprintf("The scan has %d bits a channel; 16 tell more of the dark patches.", s.Bits))
	}
	if turned != "" {
		best.Notes = append(best.Notes, turned)
	}
	best.Notes = append(best.Notes, fmt.Sprintf("The scanner was found by the target's %d patches: those left out of it come within %.3f in density; flare %.1f %%.", len(patches), scanner.Error, 100*max(scanner.Flare[0], scanner.Flare[1], scanner.Flare[2])))
	return best, scanner, nil
}

func sheetSize(sheet testsheet.Sheet) (w, h float64) {
	_, middle := setter.TestPlaces(sheet)
	end := middle(testsheet.Patch{Row: sheet.Rows - 1, Col: sheet.Cols - 1})
	begin := middle(testsheet.Patch{})
	return begin[0] + end[0], begin[1] + end[1]
}

// readAt reads the patches of a sheet that lies somewhere.
func readAt(s *scan.Scan, at place, scanner *Scanner, sheet testsheet.Sheet) (*fit.Readings, error) {
	_, middle := setter.TestPlaces(sheet)
	side := patchShare * setter.PatchSide * at.pixelsPerMM()
	seen := map[string][3]float64{} // share of the light, by patch
	var paper [3]float64
	for _, p := range sheet.Patches {
		m := middle(p)
		x, y := at.at(m[0], m[1])
		light, codes, ok := sample(s, x, y, side)
		if !ok {
			return nil, fmt.Errorf("patch %s of the sheet lies outside of the scan; scan the whole sheet", p.ID)
		}
		if cutOff(codes) {
			return nil, fmt.Errorf("patch %s of the sheet is cut off to black or white; scan again with all automatics off, and without a black or a white point", p.ID)
		}
		var r [3]float64
		for ch := range r {
			r[ch] = scanner.Reflected(ch, light[ch])
		}
		seen[p.ID] = r
		if p.Bare() && p.Ground == testsheet.White {
			for ch := range r {
				paper[ch] = max(paper[ch], r[ch])
			}
		}
	}
	out := map[string]fit.Density{}
	for _, p := range sheet.Patches {
		r := seen[p.ID]
		if p.Ground == testsheet.Dark && !onBlack(sheet, seen, paper) {
			continue
		}
		var d fit.Density
		for ch := range r {
			d.D[ch] = -math.Log10(r[ch])
			d.Sigma[ch] = math.Hypot(math.Hypot(targetSigma, scanner.Error/2), darkSigma/r[ch]/math.Ln10)
		}
		out[p.ID] = d
	}
	read, err := fit.Scanned(&sheet, scanner.Status(), out)
	if err != nil {
		return nil, err
	}
	if differ := spreadOf(sheet, seen); differ > 0 {
		note := fmt.Sprintf("The five like patches differ by %.1f %% in light at most.", 100*differ)
		if differ > uneven {
			note += " Coat or scanner is uneven: scan the sheet once more, turned by a quarter, to tell which."
		}
		read.Notes = append(read.Notes, note)
	}
	return read, nil
}

// onBlack tells whether the row on the dark ground lies on black.
func onBlack(sheet testsheet.Sheet, seen map[string][3]float64, paper [3]float64) bool {
	for _, p := range sheet.Patches {
		if p.Ground == testsheet.Dark && p.Bare() {
			r := seen[p.ID]
			return r[1] < darkGround*paper[1]
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

package session

import (
	"fmt"
	"maps"
	"math"
	"strings"

	"threeply/proof/cube"
	"threeply/proof/film"
	"threeply/proof/negative"
	"threeply/proof/neutral"
	"threeply/proof/pigment"
	"threeply/proof/relief"
	"threeply/proof/spread"
	"threeply/proof/stack"
	"threeply/proof/survey"
	"threeply/proof/transfer"
	"threeply/proof/workshop"
)

// Range is what a number of a session can be.
type Range struct {
	Low, High float64 // both included
	Zero      string  // what 0 stands for, where it is allowed besides; else ""
	Whole     bool    // only whole numbers
	Unit      string
	Name      string // what the number is, such as "print width"
}

// holds is false for a NaN.
func (r Range) holds(v float64) bool {
	return (Within(v, r.Low, r.High) || r.Zero != "" && v == 0) && (!r.Whole || v == math.Trunc(v))
}

func (r Range) says(v float64) string {
	unit := r.Unit
	if unit != "" && unit != "°" {
		unit = "\u00a0" + unit
	}
	none := ""
	if r.Zero != "" {
		none = ", or 0 " + r.Zero
	}
	return fmt.Sprintf("the %s is %g%s; it can be %g to %g%s%s", r.Name, v, unit, r.Low, r.High, unit, none)
}

// largestSide bounds a scan's width and height, MostPixels their product, which is
// scan.MaxPixels.
const (
	largestSide = 1e6
	MostPixels  = 400e6
)

// farthest bounds a shift between two scans, in pixels.
const farthest = 1e7

// ranges holds every number of a session, and of the commands that set it, by its
// place in the JSON, without the numbers of lists. It is the only place where they
// stand: checks, the published schema and the page's controls take them from here.
var ranges = map[string]Range{
	"version": {Low: Version, High: Version, Whole: true, Name: "version"},

	"sources.part":                 {Low: 0, High: 2, Whole: true, Name: "part of its file that a plate is"},
	"sources.width":                {Low: 1, High: largestSide, Zero: "without a scan", Whole: true, Unit: "px", Name: "width of a scan"},
	"sources.height":               {Low: 1, High: largestSide, Zero: "without a scan", Whole: true, Unit: "px", Name: "height of a scan"},
	"sources.bits":                 {Low: 0, High: 64, Whole: true, Unit: "bits", Name: "depth of a scan's values"},
	"sources.ppi":                  {Low: 0, High: 1e6, Unit: "px an inch", Name: "resolution of a scan"},
	"sources.film.white":           {Low: -4, High: 8, Name: "density of the scene's white"},
	"sources.film.black":           {Low: -4, High: 8, Name: "density of the scene's black"},
	"sources.film.gamma":           {Low: 0.2, High: 5, Zero: "without a scan", Name: "film's contrast γ"},
	"sources.polarity_sure":        {Low: 0, High: 1, Name: "certainty of negative or positive"},
	"sources.base":                 {Low: -1, High: 8, Name: "thinnest density"},
	"sources.max":                  {Low: -1, High: 8, Name: "largest density"},
	"sources.area":                 {Low: 0, High: largestSide, Whole: true, Unit: "px", Name: "edge of the picture within its borders"},
	"sources.rebate":               {Low: 0, High: 8, Name: "density of base and fog beside the picture"},
	"sources.scan.step":            {Low: 0, High: 65536, Name: "step of a scan's compression"},
	"sources.scan.ppi_down":        {Low: 0, High: 1e6, Unit: "px an inch", Name: "resolution down a scan"},
	"sources.scan.codes.levels":    {Low: 0, High: 65536, Whole: true, Name: "number of a scan's codes"},
	"sources.scan.codes.unit":      {Low: 0, High: 65536, Whole: true, Name: "step between a scan's codes"},
	"sources.scan.codes.lowest":    {Low: 0, High: 1, Name: "lowest code"},
	"sources.scan.codes.highest":   {Low: 0, High: 1, Name: "highest code"},
	"sources.scan.codes.gaps":      {Low: 0, High: 1, Name: "share of empty codes"},
	"sources.scan.codes.spikes":    {Low: 0, High: 1, Name: "share of codes that stand out"},
	"sources.scan.streaks.down":    {Low: 0, High: largestSide, Whole: true, Name: "number of streaks down a scan"},
	"sources.scan.streaks.across":  {Low: 0, High: largestSide, Whole: true, Name: "number of streaks across a scan"},
	"sources.scan.streaks.density": {Low: 0, High: 8, Name: "density of a scan's streaks"},
	"sources.scan.clipped":         {Low: 0, High: 1, Name: "share of a scan that is clipped"},

	"assign": {Low: 0, High: 2, Whole: true, Name: "number of a source"},

	"sources.film.bend.density":  {Low: -100, High: 100, Name: "density of a point of a film's bend"},
	"sources.film.bend.straight": {Low: -100, High: 100, Name: "density on the straight line of a point of a film's bend"},
	"neutral.greys.x":            {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a grey across the scan"},
	"neutral.greys.y":            {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a grey down the scan"},
	"neutral.step":               {Low: 0, High: neutral.MostStep, Name: "step of a grey scale in density"},
	"neutral.densities":          {Low: 0, High: neutral.MostDensity, Name: "density of a grey of a scale"},
	"neutral.unsure":             {Low: 0, High: 100, Unit: "stops", Name: "doubt of an exposure"},

	"found.matrix":     {Low: -farthest, High: farthest, Name: "entry of a register's matrix"},
	"found.confidence": {Low: 0, High: 1, Name: "confidence of a register"},
	"found.median_px":  {Low: 0, High: largestSide, Unit: "px", Name: "median of what register leaves"},
	"found.p95_px":     {Low: 0, High: largestSide, Unit: "px", Name: "95 % of what register leaves"},
	"found.max_px":     {Low: 0, High: largestSide, Unit: "px", Name: "largest of what register leaves"},
	"found_key":        {Low: -1, High: 2, Whole: true, Name: "source that was registered to"},
	"local.w":          {Low: 0, High: largestSide, Whole: true, Unit: "px", Name: "width that a local register holds for"},
	"local.h":          {Low: 0, High: largestSide, Whole: true, Unit: "px", Name: "height that a local register holds for"},
	"local.cx":         {Low: -1e5, High: 1e5, Unit: "px", Name: "shift of a local register"},
	"local.cy":         {Low: -1e5, High: 1e5, Unit: "px", Name: "shift of a local register"},

	"local.before.median": {Low: 0, High: largestSide, Unit: "px", Name: "median without the local register"},
	"local.before.p95":    {Low: 0, High: largestSide, Unit: "px", Name: "95 % without the local register"},
	"local.before.max":    {Low: 0, High: largestSide, Unit: "px", Name: "largest without the local register"},
	"local.after.median":  {Low: 0, High: largestSide, Unit: "px", Name: "median with the local register"},
	"local.after.p95":     {Low: 0, High: largestSide, Unit: "px", Name: "95 % with the local register"},
	"local.after.max":     {Low: 0, High: largestSide, Unit: "px", Name: "largest with the local register"},

	"survey.across": {Low: 0, High: survey.MostCells, Whole: true, Name: "number of a survey's cells across"},
	"survey.down":   {Low: 0, High: survey.MostCells, Whole: true, Name: "number of a survey's cells down"},
	"survey.area":   {Low: 0, High: largestSide, Whole: true, Unit: "px", Name: "edge of the picture that a survey is of"},
	"survey.dx":     {Low: -largestSide, High: largestSide, Unit: "px", Name: "offset in a survey"},
	"survey.dy":     {Low: -largestSide, High: largestSide, Unit: "px", Name: "offset in a survey"},
	"survey.within": {Low: 0, High: 2 * largestSide, Unit: "px", Name: "range in a survey"},

	"outvoted":           {Low: 0, High: 1, Name: "share of places that lie elsewhere"},
	"tones":              {Low: -1, High: 1, Name: "correlation of two plates' tones"},
	"marks.n":            {Low: 1, High: 1e6, Whole: true, Name: "number of a mark"},
	"marks.at.x":         {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a pin across the scan"},
	"marks.at.y":         {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a pin down the scan"},
	"marks.at.certainty": {Low: 0, High: 1, Name: "certainty of a pin"},
	"marks.weight":       {Low: 0.01, High: 100, Name: "weight of a mark"},
	"mark_share":         {Low: 0.01, High: 0.99, Name: "share of the marks"},

	"pin.n":           {Low: 1, High: 1e6, Zero: "for a new mark", Whole: true, Name: "number of a mark"},
	"pose.dxPx":       {Low: -2 * largestSide, High: 2 * largestSide, Unit: "px", Name: "shift of a plate to the right"},
	"pose.dyPx":       {Low: -2 * largestSide, High: 2 * largestSide, Unit: "px", Name: "shift of a plate down"},
	"pose.turnDeg":    {Low: -180, High: 180, Unit: "°", Name: "turn of a plate"},
	"pose.stretchPct": {Low: -75, High: 300, Unit: "%", Name: "stretch of a plate"},

	"offsets.dx_um":       {Low: -5e6, High: 5e6, Unit: "µm", Name: "offset to the right"},
	"offsets.dy_um":       {Low: -5e6, High: 5e6, Unit: "µm", Name: "offset down"},
	"offsets.turn_deg":    {Low: -45, High: 45, Unit: "°", Name: "turn of a layer"},
	"offsets.stretch_pct": {Low: -20, High: 20, Unit: "%", Name: "stretch of a layer"},
	"offsets.across_pct":  {Low: -20, High: 20, Unit: "%", Name: "stretch of a layer across the grain"},

	"own_papers.r":        {Low: 0, High: 1, Name: "reflectance of a paper"},
	"limit":               {Low: 0.2, High: cube.Max, Name: "share of its coat that no layer is thicker than"},
	"way.range":           {Low: 0.3, High: 4, Zero: "for negatives as they are", Name: "density range of straight negatives"},
	"way.shape.contrast":  {Low: -relief.MostShape, High: relief.MostShape, Name: "contrast of tuned negatives"},
	"way.shape.highlight": {Low: -relief.MostShape, High: relief.MostShape, Name: "highlights of tuned negatives"},
	"way.shape.shadow":    {Low: -relief.MostShape, High: relief.MostShape, Name: "shadows of tuned negatives"},
	"way.shape.balance":   {Low: -relief.MostShape, High: relief.MostShape, Name: "balance of a layer"},
	"way.stops":           {Low: -5, High: 5, Unit: "stops", Name: "exposure of a layer against the normal one"},

	"print_width_mm":               {Low: 10, High: 5000, Unit: "mm", Name: "print width"},
	"viewing_mm":                   {Low: 50, High: 20000, Unit: "mm", Name: "viewing distance"},
	"tolerance_um":                 {Low: 1, High: 10000, Zero: "for what the eye sees", Unit: "µm", Name: "tolerance"},
	"notes.n":                      {Low: 1, High: 1e6, Whole: true, Name: "number of a note"},
	"held.n":                       {Low: 1, High: 1e6, Whole: true, Name: "number of a held print"},
	"notes.x":                      {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a note across the scan"},
	"points.n":                     {Low: 1, High: MostPoints, Whole: true, Name: "number of a point"},
	"points.x":                     {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a point across the scan"},
	"points.y":                     {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a point down the scan"},
	"notes.y":                      {Low: -0.5, High: largestSide, Unit: "px", Name: "place of a note down the scan"},
	"negatives.ppi":                {Low: 72, High: 5760, Unit: "px an inch", Name: "resolution of the printing negatives"},
	"negatives.allowance_mm":       {Low: 0, High: 50, Unit: "mm", Name: "trim allowance"},
	"negatives.safe_edge_mm":       {Low: negative.LeastSafeEdge, High: 60, Unit: "mm", Name: "safe edge"},
	"negatives.punch_mm":           {Low: 0, High: 60, Unit: "mm", Name: "strip for the punch"},
	"negatives.screen_um":          {Low: negative.FinestDot, High: negative.CoarsestDot, Zero: "for continuous negatives", Unit: "µm", Name: "size of a dot"},
	"negatives.dot_gain":           {Low: 0, High: film.MostGain, Name: "dot gain at a half"},
	"negatives.dots.table.film":    {Low: 0, High: 1, Name: "tint of the film"},
	"negatives.dots.table.print":   {Low: 0, High: 1, Name: "tint of the print"},
	"negatives.dots.least":         {Low: 0, High: film.MostLeast, Name: "smallest tint that holds"},
	"negatives.dots.most":          {Low: film.LeastMost, High: 1, Zero: "for any", Name: "largest tint that stays open"},
	"negatives.dots.holds_um":      {Low: 0, High: film.MostHolds, Unit: "µm", Name: "smallest dot that holds"},
	"negatives.film.max":           {Low: film.LeastMax, High: film.MostMax, Name: "largest UV density of the film"},
	"negatives.film.table.code":    {Low: 0, High: 1, Name: "code of a step of the film"},
	"negatives.film.table.density": {Low: 0, High: film.MostMax, Name: "density of a step of the film"},
	"exhibition.lux":               {Low: pigment.LeastLux, High: pigment.MostLux, Unit: "lx", Name: "light of the exhibition"},
	"exhibition.hours":             {Low: pigment.LeastHours, High: pigment.MostHours, Unit: "h", Name: "hours a day of the exhibition"},
	"fading.dose":                  {Low: pigment.LeastDose, High: pigment.MostDose, Zero: "to take the measurement away", Unit: "Mlx·h", Name: "light on a strip"},
	"fading.before":                {Low: 0, High: 4, Name: "density of a strip before it was shown"},
	"fading.after":                 {Low: 0, High: 4, Name: "density of a strip after it was shown"},
	"exhibition.years":             {Low: pigment.LeastYears, High: pigment.MostYears, Name: "years of the exhibition"},
	"wedge.exposure":               {Low: 1e-6, High: 1e6, Zero: "for 1", Name: "exposure of a wedge"},
	"printingFilm.max":             {Low: film.LeastMax, High: film.MostMax, Zero: "where a table says it", Name: "largest UV density of the film"},

	"workshop.layers.exposure":          {Low: 0.1, High: 1e6, Zero: "where it was not measured", Name: "base exposure"},
	"workshop.layers.strength_pct":      {Low: 0.05, High: 20, Zero: "where it is not said", Unit: "%", Name: "strength of the sensitiser"},
	"workshop.layers.coat.pigment_gl":   {Low: 0, High: 200, Unit: "g/l", Name: "pigment of a coat"},
	"workshop.layers.coat.gelatine_pct": {Low: 0, High: 40, Unit: "%", Name: "gelatine of a coat"},
	"workshop.layers.coat.sugar_pct":    {Low: 0, High: 40, Unit: "%", Name: "sugar of a coat"},
	"workshop.layers.coat.wet_mm":       {Low: 0, High: 5, Unit: "mm", Name: "wet height of a coat"},
	"workshop.layers.drawdown":          {Low: 0.05, High: 4, Zero: "where none was read", Name: "density of a drawdown"},
	"workshop.layers.drawdown_wet_mm":   {Low: 0.01, High: 5, Zero: "where none was drawn", Unit: "mm", Name: "wet height of a drawdown"},
	"workshop.process.soak_min":         {Low: 0.5, High: 60, Unit: "min", Name: "soak"},
	"workshop.process.mate_min":         {Low: 1, High: 180, Unit: "min", Name: "time on the support before development"},
	"workshop.process.develop_c":        {Low: workshop.LeastDevelop, High: workshop.MostDevelop, Unit: "°C", Name: "temperature that development begins at"},
	"workshop.process.develop_to_c":     {Low: workshop.LeastDevelop, High: workshop.MostDevelop, Unit: "°C", Name: "warmest that development may get"},
	"workshop.process.alum_pct":         {Low: 0.5, High: 20, Unit: "%", Name: "strength of the alum bath"},
	"workshop.process.alum_min":         {Low: 0.5, High: 60, Unit: "min", Name: "time in the alum bath"},
	"workshop.process.condition_h":      {Low: 0, High: 240, Unit: "h", Name: "time in one climate"},
	"workshop.process.settle_h":         {Low: 0, High: 240, Unit: "h", Name: "time before measuring"},
	"workshop.process.humidity_pct":     {Low: 10, High: 90, Unit: "%", Name: "relative humidity"},
	"workshop.grows.film_along_pct":     {Low: 0, High: 5, Unit: "%", Name: "growth of the film along"},
	"workshop.grows.film_across_pct":    {Low: 0, High: 5, Unit: "%", Name: "growth of the film across"},
	"workshop.grows.paper_along_pct":    {Low: 0, High: 5, Unit: "%", Name: "growth of the paper along its grain"},
	"workshop.grows.paper_across_pct":   {Low: 0, High: 5, Unit: "%", Name: "growth of the paper across its grain"},
	"workshop.grows.support_along_pct":  {Low: 0, High: 5, Unit: "%", Name: "growth of the support along"},
	"workshop.grows.support_across_pct": {Low: 0, High: 5, Unit: "%", Name: "growth of the support across"},

	"section.x0": {Low: 0, High: 1, Name: "begin of the section's line across the picture"},
	"section.y0": {Low: 0, High: 1, Name: "begin of the section's line down the picture"},
	"section.x1": {Low: 0, High: 1, Name: "end of the section's line across the picture"},
	"section.y1": {Low: 0, High: 1, Name: "end of the section's line down the picture"},
}

func init() {
	for field, b := range spread.Bounds() {
		ranges["unknowns."+field] = Range{Low: b.Least, High: b.Most, Name: "doubt of the " + b.Name}
	}
	for _, p := range pigment.Printers() {
		at, name := "own_palettes."+p.String()+".", " of the "+p.String()+" tissue"
		ranges[at+"pigments.share"] = Range{Low: 0, High: 1, Name: "share of a pigment" + name}
		ranges[at+"load"] = Range{Low: pigment.LeastLoad, High: pigment.MostLoad, Name: "load" + name}
		ranges[at+"haze"] = Range{Low: pigment.LeastHaze, High: pigment.MostHaze, Name: "haze" + name}
		ranges[at+"hardening.depthMicron"] = Range{Low: pigment.LeastDepth, High: pigment.MostDepth, Zero: "where it was not measured", Unit: "µm", Name: "depth of the light" + name}
		ranges[at+"hardening.threshold"] = Range{Low: pigment.LeastThreshold, High: pigment.MostThreshold, Zero: "where it was not measured", Name: "least exposure" + name}
		ranges[at+"hardening.holdOnMicron"] = Range{Low: pigment.LeastHoldOn, High: pigment.MostHoldOn, Unit: "µm", Name: "least height that holds on" + name}
		ranges[at+"hardening.wedge.logExposure"] = Range{Low: -12, High: 12, Name: "exposure of a wedge" + name}
		ranges[at+"hardening.wedge.micron"] = Range{Low: 0, High: pigment.MostCoat, Unit: "µm", Name: "height of a wedge" + name}
		ranges[at+"faded.dose"] = Range{Low: pigment.LeastDose, High: pigment.MostDose, Unit: "Mlx·h", Name: "light on a strip" + name}
		ranges[at+"faded.left"] = Range{Low: pigment.LeastLeft, High: pigment.MostLeft, Name: "share left of a strip" + name}
		ranges[at+"measured.k"] = Range{Low: pigment.LeastK, High: pigment.MostK, Name: "measured absorption" + name}
		ranges[at+"measured.s"] = Range{Low: 0, High: pigment.MostK, Name: "measured scattering" + name}
		ranges[at+"measured.kSigma"] = Range{Low: 0, High: pigment.MostSigma, Name: "doubt of the measured absorption" + name}
		ranges[at+"measured.sSigma"] = Range{Low: 0, High: pigment.MostSigma, Name: "doubt of the measured scattering" + name}
		ranges[at+"coatMicron"] = Range{Low: pigment.LeastCoat, High: pigment.MostCoat, Unit: "µm", Name: "coat" + name}
	}
	for _, field := range []string{"mean", "p95", "max", "expected"} {
		ranges["own_palettes.measured."+field] = Range{Low: 0, High: pigment.MostError, Name: "error of a measured palette, " + field}
	}
	choices["own_palettes.measured.way"] = Choice{Of: pigment.Ways, Name: "way of measuring"}
	ranges["own_palettes.measured.coat"] = Range{Low: 0, High: 1, Name: "share by which measured coats differ"}
	ranges["own_palettes.measured.k0"] = Range{Low: 0, High: pigment.MostK0, Name: "light that a measured surface adds"}
	ranges["own_palettes.measured.doubt"] = Range{Low: 0, High: pigment.MostSigma, Name: "doubt of amounts judged by eye"}
	ranges["own_palettes.measured.told"] = Range{Low: 0, High: pigment.MostCounted, Name: "number of sheets that tell which grey is neutral"}
	ranges["own_palettes.measured.patches"] = Range{Low: 0, High: pigment.MostCounted, Whole: true, Name: "number of patches held out"}
	ranges["own_palettes.measured.sheets"] = Range{Low: 0, High: pigment.MostCounted, Whole: true, Name: "number of sheets measured"}
	for _, p := range pigment.Printers() {
		ranges["own_palettes.measured.seen."+p.String()+".density"] = Range{Low: 0, High: pigment.MostMatched, Name: "density of a grey matched by eye in the " + p.String() + " layer"}
	}
}

// Ranges returns what every number of a session can be, by its place in the JSON,
// such as "sources.film.gamma"; those of "pose." and "pin." only commands have.
func Ranges() map[string]Range { return maps.Clone(ranges) }

// RangeAt returns one of Ranges.
func RangeAt(place string) (r Range, ok bool) {
	r, ok = ranges[place]
	return r, ok
}

// Choice is what a text of a session can be.
type Choice struct {
	Of   []string
	Name string // what one of them is, such as "order of the layers"
	More string // said besides, or ""
}

func (c Choice) says(text string) string {
	list := c.Of
	if list[0] == "" {
		list = list[1:]
	}
	many := strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
	return fmt.Sprintf("“%.40s” is no %s: there are %s%s", text, c.Name, many, c.More)
}

// choices holds the texts of a session that can be one of a few, by their place, and
// those that commands alone have.
var choices = map[string]Choice{
	"layout":                  {Of: []string{"", "separate", "tall", "channels", "pages"}, Name: "way that plates lie in their files"},
	"neutral.by":              {Of: []string{"", ByOwn, ByLight, ByGreys, ByScale, ByHand}, Name: "thing that films can rest on"},
	"neutral.key":             {Of: []string{"", "red", "green", "blue"}, Name: "plate that greys lie on"},
	"registered":              {Of: []string{"none", "auto"}, Name: "state of register"},
	"key":                     {Of: Filters[:], Name: "plate to be the key"},
	"register_by":             {Of: []string{ByRegister, ByMarks, ByBoth}, Name: "way of registering"},
	"grain":                   {Of: []string{"upright", "level"}, Name: "way that the paper's grain runs"},
	"bench":                   {Of: []string{"magenta", "cyan"}, Name: "layer to register to", More: "; yellow is too faint to be seen"},
	"printer":                 {Of: []string{"yellow", "magenta", "cyan"}, Name: "layer"},
	"notes.state":             {Of: []string{NoteOpen, NoteAgreed, NotePrinter}, Name: "state of a note"},
	"plate":                   {Of: []string{"", "red", "green", "blue"}, Name: "plate"},
	"polarity":                {Of: []string{"negative", "positive"}, Name: "kind of plate"},
	"exposures":               {Of: []string{"bgr", "rgb", "brg", "gbr", "grb", "rbg"}, Name: "order of the exposures from the top"},
	"order":                   {Of: namesOf(stack.Orders(), stack.Order.String), Name: "order of the layers"},
	"finish":                  {Of: namesOf(stack.Finishes(), func(f stack.Finish) string { return f.ID }), Name: "finish"},
	"negatives.side":          {Of: []string{negative.Emulsion, negative.Base}, Name: "side of the film"},
	"negatives.trim":          {Of: []string{negative.TrimPlate, negative.TrimPicture}, Name: "thing to trim to"},
	"negatives.sheet":         {Of: append([]string{""}, namesOf(negative.Sheets(), func(s negative.Sheet) string { return s.ID })...), Name: "film sheet"},
	"negatives.film.kind":     {Of: []string{film.Inkjet, film.Silver}, Name: "kind of film"},
	"negatives.film.measured": {Of: []string{"", film.UV, film.Visual, film.Status}, Name: "way of measuring a film"},
	"wedge.read":              {Of: []string{"", "A", "T", "E", "visual"}, Name: "kind of densities"},
	"workshop.unit":           {Of: []string{workshop.Seconds, workshop.Lights}, Name: "unit of exposures"},
	"workshop.register":       {Of: []string{workshop.ByMarks, workshop.ByPins}, Name: "way of register on the bench"},
	"route":                   {Of: append(namesOf(transfer.Routes(), func(r transfer.Route) string { return r.ID }), transfer.Own), Name: "route"},
}

func namesOf[T any](list []T, name func(T) string) []string {
	var names []string
	for _, v := range list {
		names = append(names, name(v))
	}
	return names
}

// Choices returns what texts of a session can be, where they are one of a few, by
// their place in the JSON.
func Choices() map[string]Choice { return maps.Clone(choices) }

// Letters bounds every other text of a session, in characters; names of files and
// what is said of a plate can be longer.
const Letters = 200

var letters = map[string]int{
	"sources.file": 1000, "sources.remarks": 1000, "sources.encoding": 500, "found.words": 2000, "own_papers.source": 1000,
	"identity.description": 4000, "identity.rights": 1000, "plate_identities.letter": 20, "plate_identities.condition": 2000,
	"held.name": 80, "held.seen.words": 2000, "notes.title": 120, "notes.text": 10240, "notes.by": 40, "notes.at": 40, "notes.seen.words": 2000,
	"own_route": 60, "printingFilm.table": 20000, "printingFilm.tablet": 20000, "wedge.table": 20000, "sight.table": 1000, "printed_sheets.plan": 60000, "keepSheet.plan": 200000, "written.sight": 200000, "tints": 20000, "decision.choice": 1000, "decision.reason": 4000, "decision.questions": 4000, "decision.seen.words": 2000,
}

// LettersAt is how many characters a text at a place of the JSON can have.
func LettersAt(place string) int {
	if n, ok := letters[place]; ok {
		return n
	}
	return Letters
}

package pigment

// Where the spectra come from.
const (
	swatches  = "NTNU Hyperspectral Pigment Dataset: H. Deborah, WHISPERS 2022, doi:10.1109/WHISPERS56178.2022.9955067, data doi:10.5281/zenodo.5592485, CC BY 4.0"
	acrylics  = "K fitted to artists' acrylics: R. S. Berns, Artist Paint Spectral Database, CIC24, 2016"
	fibre     = "shape fitted to A. Cosentino, e-conservation 2 (2014) 53, doi:10.18236/econs2.201410"
	unsourced = "no data found; published band positions from memory"
)

const noDust = "Low; no dust."

// table gives each pigment's absorption and scattering as parameters of the
// formulas at absorption and scatter. K was fitted and scaled to exp(-K) = 0.1
// at the peak; S is small by choice where a pigment is fine and transparent.
var table = []Pigment{
	{
		CI: "PY3", Name: "Hansa yellow 10G", Era: "1909 on",
		Source: swatches + ", swatch OY_1_1_p1", Status: StatusSwatches,
		Lightfastness: "ASTM II (from memory); blue wool 6–7", BlueWool: BlueWool{6, 7}, Hazard: noDust,
		absorption: absorption{floor: 2.559e-05, bands: []term{{0.5794, 453.5, 0.9926}}, edges: []term{{1.731, 477.6, 0.213}}},
		scatter:    scatter{0.3836, -0.15},
	},
	{
		CI: "PY74", Name: "Arylide yellow 5GX", Era: "1957 on",
		Source: acrylics + ", an opaque grade; S as small as that of a fine dispersion in gelatine, a tenth of the acrylic's, from memory", Status: StatusFilmsFine,
		Lightfastness: "ASTM I–II (from memory); opaque grades hold better", Hazard: noDust,
		absorption: absorption{floor: 0.0001933, bands: []term{{0.3983, 437.4, 0.7641}, {0.8004, 470.9, 0.7575}}, edges: []term{{1.456, 497.3, 0.1624}}},
		scatter:    scatter{0.026, 1.5},
	},
	{
		CI: "PY83", Name: "Diarylide yellow HR", Era: "1958 on",
		Source: acrylics + "; S kept small, for a fine dispersion", Status: StatusFilmsAssumed,
		Lightfastness: "ASTM I–II (from memory); transparent grades weaker", Hazard: "Low; above 200 °C it sets dichlorobenzidine free, which may cause cancer. No dust.",
		absorption: absorption{floor: 0.0002274, bands: []term{{0.7995, 457, 1.188}, {0.6326, 495.6, 0.6196}}, edges: []term{{1.342, 518.9, 0.1532}}},
		scatter:    scatter{0.1, 1.4},
	},
	{
		CI: "PY13", Name: "Diarylide yellow, m-xylidide", Era: "20th century, printing ink",
		Source: unsourced, Status: StatusMemory,
		Lightfastness: "blue wool 3–4 (from memory)", BlueWool: BlueWool{3, 4}, Hazard: "Low; above 200 °C it sets dichlorobenzidine free, which may cause cancer. No dust.",
		absorption: absorption{floor: 0.001106, bands: []term{{0.9958, 425, 1.7}, {0.9958, 452, 0.9}}, edges: []term{{0.5532, 486, 0.22}}},
		scatter:    scatter{0.05, 1.5},
	},
	{
		CI: "PY34", Name: "Chrome yellow, middle", Era: "c. 1815–1970",
		Source: unsourced, Status: StatusMemory,
		Lightfastness: "ASTM I (from memory), yet it greens and darkens in bad air and light", Hazard: "TOXIC. Lead chromate: may cause cancer, harms the unborn child, builds up in the body, harms water life; authorisation needed in many places. No dust, no skin contact.",
		absorption: absorption{floor: 0.01, bands: []term{{0.46, 430, 1.7}}, edges: []term{{1.835, 513, 0.26}}},
		scatter:    scatter{0.35, 1},
	},
	{
		CI: "PY37", Name: "Cadmium yellow", Era: "1840s on",
		Source: swatches + ", swatch YL_1_1_p3", Status: StatusSwatches,
		Lightfastness: "ASTM I (from memory)", Hazard: "TOXIC. Cadmium sulfide: classed as carcinogenic (1B), harms kidneys and bones over time, suspected of damaging genes and fertility (from memory). No dust, no skin contact.",
		absorption: absorption{floor: 0.002237, bands: []term{{1.005, 462.2, 0.9582}}, edges: []term{{1.295, 501.1, 0.1719}}},
		scatter:    scatter{0.1517, 1.47},
	},
	{
		CI: "PY40", Name: "Aureolin, cobalt yellow", Era: "1850s on",
		Source: swatches + ", swatch YL_3_3_p2", Status: StatusSwatches,
		Lightfastness: "ASTM II (from memory); greys in tints", Hazard: "Cobalt compound with nitrite: harmful, may sensitise; soluble cobalt salts are classed as carcinogenic by inhalation (from memory). No dust.",
		absorption: absorption{floor: 3.446e-05, bands: []term{{0.9003, 449.1, 1.566}}, edges: []term{{1.42, 485.2, 0.3904}}},
		scatter:    scatter{0.3547, -1.45},
	},
	{
		CI: "PY42", Name: "Transparent iron oxide yellow", Era: "historic and modern",
		Source: swatches + ", swatch IR_3_2_p1", Status: StatusSwatchesAssumed,
		Lightfastness: "ASTM I", Hazard: noDust,
		absorption: absorption{floor: 4.292e-05, bands: []term{{1.165, 395, 4.941}, {0.2181, 662.9, 1.337}}, edges: []term{{1.14, 529.8, 0.6113}}},
		scatter:    scatter{0.03, 1},
	},
	{
		CI: "NY24", Name: "Gamboge", Era: "historic",
		Source: fibre, Status: StatusShape,
		Lightfastness: "ASTM IV, fugitive", Hazard: "Toxic if swallowed, a violent purgative. No dust.",
		absorption: absorption{floor: 0.02038, bands: []term{{0.002612, 435, 1.6}}, edges: []term{{2.282, 504.9, 0.6571}}},
		scatter:    scatter{0.06, 1},
	},
	{
		CI: "PR122", Name: "Quinacridone magenta", Era: "1958 on",
		Source: acrylics + "; S guided by: " + swatches, Status: StatusFilmsSwatches,
		Lightfastness: "ASTM I in oil; tints once rated marginal", Hazard: noDust,
		absorption: absorption{floor: 0.001723, bands: []term{{1.656, 539, 0.8132}, {1.048, 565.8, 0.444}, {0.5309, 497.3, 1.414}, {0.2133, 355, 4.226}}},
		scatter:    scatter{0.03, 0.5},
	},
	{
		CI: "PV19", Name: "Quinacridone rose", Era: "modern",
		Source: acrylics + "; S guided by: " + swatches, Status: StatusFilmsSwatches,
		Lightfastness: "ASTM I (from memory)", Hazard: noDust,
		absorption: absorption{floor: 0.001831, bands: []term{{1.432, 527.4, 0.8445}, {1.485, 560.2, 0.4426}, {0.7838, 487.2, 1.334}, {0.3059, 345, 4.485}}},
		scatter:    scatter{0.035, -0.5},
	},
	{
		CI: "PR83", Name: "Alizarin crimson", Era: "1868 on",
		Source: swatches + ", swatch RD_4_2_p2, Colour Index name by common knowledge", Status: StatusSwatchesAssumed,
		Lightfastness: "ASTM III, fades in tints", Hazard: "Low; may irritate skin and eyes (from memory). No dust.",
		absorption: absorption{floor: 0.002508, bands: []term{{1.077, 490, 1.346}, {1.047, 530.8, 0.9101}, {1.103, 429.2, 3.607}, {0.8288, 570.6, 0.5866}}},
		scatter:    scatter{0.02, 1},
	},
	{
		CI: "NR9", Name: "Madder lake", Era: "historic",
		Source: swatches + ", swatch OP_1_1_p2", Status: StatusSwatches,
		Lightfastness: "ASTM II–III (from memory); tints blue wool 3–5", BlueWool: BlueWool{3, 5}, Hazard: "Low; madder can hold traces of lucidin, which damages genes in laboratory tests (from memory). No dust.",
		absorption: absorption{floor: 8.51e-05, bands: []term{{1.616, 515.4, 1.466}, {0.5374, 557, 0.6527}, {1.625, 431.9, 2.661}, {0.09621, 635, 1.135}}},
		scatter:    scatter{0.2173, -1.5},
	},
	{
		CI: "NR4", Name: "Carmine, cochineal lake", Era: "historic",
		Source: swatches + ", swatch RD_4_3_p1", Status: StatusSwatches,
		Lightfastness: "ASTM IV–V (from memory), fugitive", Hazard: "Allergen: its dust may cause asthma (from memory). No dust.",
		absorption: absorption{floor: 0.006136, bands: []term{{1.555, 516.5, 1.274}, {0.9197, 566.2, 0.4528}, {1.088, 452.1, 3.022}, {0.01063, 606.7, 0.3317}}},
		scatter:    scatter{0.0214, -1.5},
	},
	{
		CI: "PR106", Name: "Vermilion", Era: "historic",
		Source: swatches + ", swatch RD_2_1_p2", Status: StatusSwatches,
		Lightfastness: "ASTM I, yet it may blacken in light", Hazard: "TOXIC. Mercury compound: no dust, no heat (mercury vapour), no skin contact.",
		absorption: absorption{floor: 0.02765, bands: []term{{0.9374, 480.3, 1.453}}, edges: []term{{1.338, 576.3, 0.2807}}},
		scatter:    scatter{0.3914, -0.31},
	},
	{
		CI: "PR57:1", Name: "Lithol rubine", Era: "20th century, printing ink",
		Source: unsourced, Status: StatusMemory,
		Lightfastness: "blue wool 4–5 (from memory)", BlueWool: BlueWool{4, 5}, Hazard: noDust,
		absorption: absorption{floor: 0.004981, bands: []term{{1.494, 540, 0.75}, {1.556, 574, 0.45}, {0.9339, 505, 1.1}, {0.4358, 420, 2.6}}},
		scatter:    scatter{0.05, 0},
	},
	{
		CI: "PR90", Name: "Eosin lake", Era: "historic",
		Source: unsourced, Status: StatusMemory,
		Lightfastness: "ASTM V, blue wool 1–2 (from memory)", BlueWool: BlueWool{1, 2}, Hazard: "TOXIC unless its maker says otherwise: eosin lakes of this name were often made with lead (from memory). No dust, no skin contact.",
		absorption: absorption{floor: 0.004285, bands: []term{{2.035, 530, 0.55}, {0.8034, 497, 0.8}, {0.1928, 400, 2.5}}},
		scatter:    scatter{0.05, 1},
	},
	{
		CI: "PB15:3", Name: "Phthalocyanine blue, green shade", Era: "1935 on",
		Source: acrylics + "; S guided by: " + swatches, Status: StatusFilmsSwatches,
		Lightfastness: "ASTM I; blue wool 7–8", BlueWool: BlueWool{7, 8}, Hazard: noDust,
		absorption: absorption{floor: 1.69e-05, bands: []term{{2.042, 627, 1.205}, {1.84, 716.9, 0.5397}, {0.03169, 516.7, 1.066}, {0.1321, 381.9, 1.797}}},
		scatter:    scatter{0.006, 0},
	},
	{
		CI: "PB27", Name: "Prussian blue", Era: "1704 on",
		Source: swatches + ", swatch BL_3_1_p2; peak and width after M. B. Robin, Inorg. Chem. 1 (1962) 337, from memory", Status: StatusPeak,
		Lightfastness: "ASTM I–II; tints fade and recover in the dark; alkali destroys it", Hazard: "Low; no strong acid, no strong heat (hydrogen cyanide). No dust.",
		absorption: absorption{floor: 0.3531, bands: []term{{1.954, 709.2, 2.764}, {0.1778, 403.1, 1.246}}},
		scatter:    scatter{0.01812, 3},
	},
	{
		CI: "PB24", Name: "Peacock blue lake", Era: "1896 on, printing ink",
		Source: unsourced + "; the dye, C.I. 42090, peaks at 630 nm", Status: StatusMemory,
		Lightfastness: "blue wool 2–3 (from memory)", BlueWool: BlueWool{2, 3}, Hazard: "Low; a barium lake, not to be swallowed (from memory). No dust.",
		absorption: absorption{floor: 0.0097, bands: []term{{1.934, 632, 0.72}, {0.725, 590, 0.9}, {0.387, 410, 1.3}}},
		scatter:    scatter{0.02, 1},
	},
	{
		CI: "PG7", Name: "Phthalocyanine green", Era: "1938 on",
		Source: acrylics + "; S guided by: " + swatches, Status: StatusFilmsSwatches,
		Lightfastness: "ASTM I", Hazard: noDust,
		absorption: absorption{floor: 1.858e-05, bands: []term{{2.302, 652.9, 1.148}, {0.7438, 731, 0.2488}, {0.06006, 545.1, 0.874}, {0.6256, 409.4, 1.679}}},
		scatter:    scatter{0.01, -1},
	},
	{
		CI: "PG18", Name: "Viridian", Era: "1859 on",
		Source: swatches + ", swatch GR_2_2_p2", Status: StatusSwatches,
		Lightfastness: "ASTM I", Hazard: "Low (chromium III, possibly with traces of chromium VI, from memory); no dust.",
		absorption: absorption{floor: 5.103e-06, bands: []term{{1.047, 411.6, 2.022}, {0.6582, 593.8, 1.132}, {0.1722, 708.9, 0.3}, {1.833, 630.7, 0.7624}}},
		scatter:    scatter{0.1445, 1.13},
	},
	{
		CI: "PG50", Name: "Cobalt turquoise", Era: "modern",
		Source: swatches + ", swatch BL_4_1_p2, Colour Index name by common knowledge", Status: StatusSwatches,
		Lightfastness: "ASTM I", Hazard: "TOXIC as dust. Cobalt and nickel compound: nickel compounds are classed as carcinogenic by inhalation, and both metals may sensitise (from memory). No dust, no skin contact.",
		absorption: absorption{floor: 0.04108, bands: []term{{0.3144, 403.2, 1.1}, {1.335, 630.2, 0.6403}, {1.816, 672.2, 0.3683}, {0.4903, 585.1, 0.6386}}},
		scatter:    scatter{0.2398, 0.89},
	},
	{
		CI: "PBk7", Name: "Carbon black", Era: "historic and modern",
		Source: unsourced, Status: StatusMemory,
		Lightfastness: "ASTM I", Hazard: "Dust possibly carcinogenic (IARC 2B). Wet handling.",
		absorption: absorption{slope: power{1.72879, 0.9}},
		scatter:    scatter{0.02, 1},
	},
	{
		CI: "PBk9", Name: "Bone black", Era: "historic and modern",
		Source: acrylics + "; S too", Status: StatusFilms,
		Lightfastness: "ASTM I", Hazard: noDust,
		absorption: absorption{slope: power{1.8237, -0.966848}},
		scatter:    scatter{0.1515, -0.55},
	},
}

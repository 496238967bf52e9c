// Decodes the strips of a TIFF by libtiff, for comparison with proof/scan.
// Needs Debian's libtiff-dev: cc -O2 decode.c -ltiff
// Usage: decode FILE. Prints the seconds of processor time, the system's included.
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <tiffio.h>

int main(int argc, char **argv) {
	if (argc != 2) return 2;
	clock_t begin = clock();
	TIFF *t = TIFFOpen(argv[1], "r");
	if (!t) return 1;
	uint32_t strips = TIFFNumberOfStrips(t);
	tmsize_t size = TIFFStripSize(t);
	char *all = malloc((size_t)size * strips);
	for (uint32_t i = 0; i < strips; i++) {
		if (TIFFReadEncodedStrip(t, i, all + (size_t)size * i, size) < 0) return 1;
	}
	TIFFClose(t);
	printf("%.6f\n", (double)(clock() - begin) / CLOCKS_PER_SEC);
	return 0;
}

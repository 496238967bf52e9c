// Puts colours through a cube of n³ nodes by Little CMS, the general-purpose library for
// ICC profiles, on one core, for comparison with proof/render: 16 bits a channel in, 8 out.
// Needs Debian's liblcms2-dev: cc -O2 cube.c -llcms2
// Usage: cube N WIDTH HEIGHT NODES COLOURS OUT. NODES are n³ triples of 16 bits, the last
// channel varying fastest; COLOURS are WIDTH × HEIGHT such triples. Writes the triples of
// 8 bits to OUT and prints the seconds of processor time.
#include <lcms2.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static void *content(const char *name, size_t bytes) {
	FILE *f = fopen(name, "rb");
	void *all = malloc(bytes);
	if (!f || !all || fread(all, 1, bytes, f) != bytes) {
		fprintf(stderr, "%s cannot be read\n", name);
		exit(1);
	}
	fclose(f);
	return all;
}

int main(int argc, char **argv) {
	if (argc != 7) return 2;
	int n = atoi(argv[1]), w = atoi(argv[2]), h = atoi(argv[3]);
	cmsUInt16Number *nodes = content(argv[4], (size_t)n * n * n * 6);
	cmsUInt16Number *in = content(argv[5], (size_t)w * h * 6);
	unsigned char *out = malloc((size_t)w * h * 3);

	cmsHPROFILE link = cmsCreateProfilePlaceholder(NULL);
	cmsSetProfileVersion(link, 4.3);
	cmsSetDeviceClass(link, cmsSigLinkClass);
	cmsSetColorSpace(link, cmsSigRgbData);
	cmsSetPCS(link, cmsSigRgbData);
	cmsPipeline *steps = cmsPipelineAlloc(NULL, 3, 3);
	cmsPipelineInsertStage(steps, cmsAT_END, cmsStageAllocCLut16bit(NULL, n, 3, 3, nodes));
	cmsWriteTag(link, cmsSigAToB0Tag, steps);
	cmsHTRANSFORM t = cmsCreateTransform(link, TYPE_RGB_16, NULL, TYPE_RGB_8, INTENT_PERCEPTUAL, 0);
	if (!t) return 1;

	clock_t begin = clock();
	for (int y = 0; y < h; y++) cmsDoTransform(t, in + (size_t)3 * w * y, out + (size_t)3 * w * y, w);
	printf("%.6f\n", (double)(clock() - begin) / CLOCKS_PER_SEC);

	FILE *f = fopen(argv[6], "wb");
	return !f || fwrite(out, 3, (size_t)w * h, f) != (size_t)w * h || fclose(f);
}

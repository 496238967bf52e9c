#!/usr/bin/python3
# Registers one plate to the key with OpenCV's findTransformECC (G. D. Evangelidis,
# E. Z. Psarakis, IEEE Trans. PAMI 30 (2008) 1858), for comparison with proof/register:
# affine, on the gradients' length, coarse to fine, started by phase correlation.
# Needs Debian's python3-opencv. Usage: ecc.py WIDTH HEIGHT KEY PLATE, the planes as raw
# 16-bit little-endian density codes. Prints the matrix, the correlation and the
# seconds of the fastest of three runs.
import json, sys, time
import cv2, numpy as np

w, h = int(sys.argv[1]), int(sys.argv[2])
key, plate = (np.fromfile(f, '<u2').reshape(h, w).astype(np.float32) for f in sys.argv[3:5])


def edges(p):
    p = cv2.GaussianBlur(p, (0, 0), 1)
    return cv2.magnitude(cv2.Sobel(p, cv2.CV_32F, 1, 0), cv2.Sobel(p, cv2.CV_32F, 0, 1))


def register():
    m = np.eye(2, 3, dtype=np.float32)
    score = 0.0
    first = True
    for reduce in (8, 4, 2, 1):
        if min(w, h) / reduce < 100:
            continue
        size = (w // reduce, h // reduce)
        a, b = (edges(cv2.resize(p, size, interpolation=cv2.INTER_AREA)) for p in (key, plate))
        if first:
            (dx, dy), _ = cv2.phaseCorrelate(a, b, cv2.createHanningWindow(size, cv2.CV_32F))
            m[:, 2] = dx, dy
            first = False
        mask = np.zeros(size[::-1], np.uint8)
        mask[size[1] // 12:-(size[1] // 12), size[0] // 12:-(size[0] // 12)] = 1
        stop = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 100, 1e-6)
        try:
            score, s = cv2.findTransformECC(a, b, m.copy(), cv2.MOTION_AFFINE, stop, mask, 5)
        except cv2.error:
            break
        # Twice the resolution: x of the half lies at 2x + 0.5.
        m = s.copy()
        if reduce > 1:
            lin = s[:, :2]
            m[:, 2] = 2 * s[:, 2] + 0.5 - lin @ np.array([0.5, 0.5], np.float32)
    return m, score


seconds = []
for _ in range(3):
    begin = time.perf_counter()
    m, score = register()
    seconds.append(time.perf_counter() - begin)
print(json.dumps({'matrix': m.astype(float).ravel().tolist(), 'score': float(score), 'seconds': min(seconds)}))

// Package browsertest holds the tests of the built page in Chromium.
//
// They run where THREEPLY_BROWSER is set and .build/site stands ("make browser");
// a plain "go test ./..." skips them. Where THREEPLY_SHOTS names a folder, the
// screenshots of all stations are left there ("make shots").
//
// Places on the page are in CSS pixels from the top left corner of the window,
// places in a frame's record from the top left corner of the stage. The device pixel
// ratio is 1, so a screenshot's pixels are CSS pixels.
package browsertest

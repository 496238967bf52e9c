//go:build js

// Package bridge is what the page's scripts call, at window.threeply, and what they are
// told, at window.threeplyPage. It converts; what is done is done by package app.
package bridge

// Package reach measures the solid of colours that a recipe can print.
package reach

// Package chart draws stock and burn against time as SVG, on the server. It is pure: what goes in are
// days and whole litres, what comes out is markup that is styled by the classes of the page's
// stylesheet and holds no style of its own.
//
// A chart has no fixed width. What has a place in time is placed in per cent of the width, so that words
// and pennants keep their size on a telephone; only the curves, which lie in an inner drawing, stretch.
package chart

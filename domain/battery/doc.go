// Package battery judges battery packs: by what a class asks of them ([Window], and
// [Windows] where it takes several kinds of cells), from what was measured ([Reading],
// [TwoLoads]) and the pack's history ([Pack]). [MatchPacks] makes sets of like packs,
// and [DealPacks] deals them by lot.
//
// Everything is in whole numbers of fixed units (mV, mA, mΩ, thousandths of a °C, µs),
// so that every machine judges alike. The package reads no clock and draws no lot but
// from a seed that it is handed. It knows no race day: package inspection asks it.
package battery

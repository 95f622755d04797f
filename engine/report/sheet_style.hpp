// The look of the build sheet. Black on white, so that nothing rests on colour.
#pragma once

#include <string_view>

namespace packproof::report {

inline constexpr std::string_view sheet_style = R"(
@page { margin: 10mm; }
* { box-sizing: border-box; }
html { background: #fff; }
body { width: 190mm; margin: 4mm auto; color: #111; background: #fff;
       font: 8pt/1.1 "Liberation Sans", Arial, sans-serif; }
@media print { body { margin: 0; } }
h1, h2, p, ul, ol, table { margin: 0; padding: 0; }
ul, ol { list-style: none; }
header { display: flex; gap: 3mm; align-items: flex-end; border-bottom: 1mm solid #111; padding-bottom: 1mm; }
header div { flex: 1; min-width: 0; }
h1, h2, p, td, caption, .stop { overflow-wrap: anywhere; }
h1 { font-size: 14pt; line-height: 1.1; }
.fields { display: grid; grid-template-columns: 1fr 1fr; gap: .6mm 3mm; flex: 0 0 92mm; }
.fields li { display: flex; gap: 1mm; align-items: flex-end; height: 4.6mm; }
.fields li::after { content: ""; flex: 1; border-bottom: .25mm solid #111; }
h2 { font-size: 8.5pt; line-height: 1.15; border-bottom: .5mm solid #111; margin: .9mm 0 .4mm; break-after: avoid; }
p { margin-bottom: .3mm; }
svg { display: block; flex: none; }
svg text { white-space: pre; }
.stop { border: .9mm solid #111; padding: .8mm 1.5mm; margin-top: 1.2mm; }
.stop h2 { border: 0; margin: 0; font-size: 10pt; }
.plan { display: flex; gap: 3mm; margin-top: 1mm; }
.plan > div { flex: 1; min-width: 0; }
.plan ul.todo { columns: 2; column-gap: 2mm; }
.columns { columns: 3; column-gap: 3.4mm; }
.columns.wide { columns: 1; }
section { break-inside: auto; }
li { break-inside: avoid; overflow-wrap: anywhere; }
.todo > li { padding-left: 4mm; text-indent: -4mm; margin-bottom: .2mm; }
.todo > li > * { text-indent: 0; }
.flow > li { display: inline; margin-right: 1.1mm; }
.box { display: inline-block; width: 2.7mm; height: 2.7mm; border: .3mm solid #111; margin-right: 1.1mm;
       vertical-align: -.35mm; text-indent: 0; text-align: center; font: bold 8pt/2.2mm "Liberation Sans", Arial, sans-serif; }
.blank { display: inline-block; width: 11mm; border-bottom: .25mm solid #111; height: 2.2mm; }
.keep { white-space: nowrap; }
.grid { display: grid; grid-template-columns: repeat(auto-fill, minmax(43mm, 1fr)); gap: .3mm 3mm; }
.grid li { display: flex; gap: 1mm; align-items: flex-end; min-height: 3.7mm; border-bottom: .1mm solid #777; }
.grid li.filled { grid-column: span 2; }
.grid li b { min-width: 4mm; }
.grid li .blank { flex: 1; width: auto; border: 0; border-left: .25mm solid #111; height: 3.6mm; text-indent: 0; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: bold; font-size: 8.5pt; padding-top: .9mm; }
th, td { text-align: left; vertical-align: top; padding: .15mm 1mm; border: .2mm solid #555; }
th { border-bottom: .5mm solid #111; }
tr { break-inside: avoid; }
td:first-child { width: 6mm; }
td .box { margin: 0 0 0 .4mm; }
.hold { font-weight: bold; border-left: 1mm solid #111; }
.todo > li.hold { padding-left: 1mm; text-indent: 0; }
p.hold { padding-left: 1mm; }
.wrong { font-weight: bold; border: .5mm solid #111; }
footer { margin-top: 1mm; border-top: .5mm solid #111; padding-top: .6mm; }
)";

}  // namespace packproof::report

#include "engine/report/inspection_html_assets.hpp"

namespace packproof::report {

std::string_view inspection_style() {
    return R"(
:root { color-scheme: light dark; --paper: #fff; --ink: #16191d; --soft: #50575f; --line: #848b93; --field: #f1f3f5;
        --link: #0a4f8f; --critical: #a8121f; --major: #7d4a00; --minor: #33475b; --open: #4a3b8f; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #14171a; --ink: #e8eaed; --soft: #b3bac2; --line: #78818b; --field: #20252a; --link: #8ec5ff;
          --critical: #ff9a9a; --major: #f2b866; --minor: #a9c4de; --open: #c2b5ff; } }
* { box-sizing: border-box; }
body { font: 1rem/1.45 "Liberation Sans", Arial, sans-serif; color: var(--ink); background: var(--paper); margin: 0 auto;
       padding: 1rem 1rem 3rem; max-width: 62rem; overflow-wrap: anywhere; }
h1, h2, h3, h4 { line-height: 1.25; margin: 0; break-after: avoid; }
h1 { font-size: 1.05rem; font-weight: normal; color: var(--soft); letter-spacing: .04em; }
h2 { font-size: 1.7rem; margin-top: .2rem; }
h3 { font-size: 1.2rem; margin-top: 2.2rem; padding-bottom: .2rem; border-bottom: 3px double var(--ink); }
h3 + p { margin-top: .6rem; }
h4 { font-size: 1.05rem; }
p, ul, ol { margin: .4rem 0; }
ul, ol { padding-left: 1.3rem; }
a { color: var(--link); }
a, summary, button, input, label { touch-action: manipulation; }
a:focus-visible, summary:focus-visible, button:focus-visible, input:focus-visible
  { outline: 3px solid var(--link); outline-offset: 2px; }
.description + .description { margin-top: 3rem; border-top: 6px solid var(--ink); padding-top: 1rem; }
.origin { color: var(--soft); font-size: .875rem; }
.verdict { font-size: 1.2rem; font-weight: bold; margin: .8rem 0; }
dl { margin: .5rem 0; }
dl > div { display: grid; grid-template-columns: 8.5rem 1fr; gap: 0 1rem; padding: .15rem 0; }
dt { color: var(--soft); }
dd { margin: 0; min-width: 0; }
dd ul, dd ol { margin: 0; }
.glance { border: 1px solid var(--line); padding: .3rem .9rem; }
.glance > div { grid-template-columns: 13rem 1fr; padding: .45rem 0; }
.glance > div + div { border-top: 1px solid var(--line); }
.glance dt { color: inherit; font-weight: bold; }
.glance dt small { display: block; font-weight: normal; color: var(--soft); font-size: .875rem; }
.glance ol, .glance ul { list-style: none; padding: 0; }
.glance a { display: inline-block; min-height: 1.5rem; }
table { border-collapse: collapse; width: 100%; margin: .6rem 0; font-variant-numeric: tabular-nums; }
caption { text-align: left; color: var(--soft); padding-bottom: .3rem; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem .35rem 0; border-bottom: 1px solid var(--line); }
thead th { font-weight: normal; color: var(--soft); }
tbody th { font-weight: bold; }
.count { text-align: right; padding-right: 1.2rem; white-space: nowrap; }
.coverage { width: auto; }
.coverage th { font-weight: normal; padding-right: 2rem; }
.finding { margin: 1.1rem 0; padding: .1rem 0 .1rem 1rem; border-left: 6px solid var(--minor); }
.finding.critical { border-left: 12px solid var(--critical); padding-left: .65rem; }
.finding.major { border-left-color: var(--major); }
.finding.observation { border-left-style: dotted; }
.finding.undecided, .finding.not-stated { border-left: 6px dashed var(--open); padding-left: 1rem; }
.finding.conforms { border-left: 2px solid var(--line); padding-left: 1.25rem; }
.finding:target { background: var(--field); }
.number { display: inline-block; min-width: 1.6rem; }
.tag { display: inline-block; border: 1.5px solid; padding: 0 .45rem; font-size: .875rem; line-height: 1.4rem; }
.critical .tag, .glance .critical { color: var(--critical); }
.major .tag { color: var(--major); }
.minor .tag, .observation .tag { color: var(--minor); }
.undecided .tag, .not-stated .tag { color: var(--open); }
.conforms .tag { color: inherit; }
.critical:not(.undecided, .not-stated, .conforms) .tag.class
  { color: var(--paper); background: var(--critical); border-color: var(--critical); font-weight: bold; }
.head, .working li { break-inside: avoid; }
.group > .origin { break-after: avoid; }
.asks { margin: .3rem 0; }
.working { list-style: none; padding: 0; }
.working li { padding-left: 1.2rem; text-indent: -1.2rem; }
.working li + li { margin-top: .35rem; }
.working span { display: block; }
.working .name { font-weight: bold; }
details { margin: .3rem 0; }
summary { cursor: pointer; min-height: 1.6rem; color: var(--link); width: fit-content; }
.rule { color: var(--soft); font-size: .875rem; }
#filter { background: var(--field); border: 1px solid var(--line); padding: .6rem .9rem .8rem; margin: 1rem 0;
          display: grid; grid-template-columns: auto auto 1fr; gap: .4rem 2rem; }
#filter[hidden] { display: none; }
.show { grid-column: 1 / -1; margin: 0; font-weight: bold; }
fieldset { border: 0; padding: 0; margin: 0; min-width: 0; }
legend, .words { padding: 0; color: var(--soft); font-size: .875rem; }
fieldset label { display: flex; align-items: center; gap: .5rem; min-height: 1.75rem; }
input[type=checkbox] { width: 1.5rem; height: 1.5rem; margin: 0; accent-color: var(--link); }
input[type=search] { font: inherit; display: block; width: 100%; min-height: 2.25rem; padding: .2rem .5rem; color: inherit;
                     background: var(--paper); border: 1px solid var(--soft); }
button { font: inherit; min-height: 2.25rem; padding: .2rem .9rem; margin: .6rem .5rem 0 0; color: inherit;
         background: var(--paper); border: 1px solid var(--soft); cursor: pointer; }
output { display: block; margin-top: .6rem; font-weight: bold; }
.on-paper { display: none; }
[hidden] { display: none; }
footer { margin-top: 2.5rem; border-top: 3px double var(--ink); padding-top: .6rem; }
@media (max-width: 44rem) {
  h2 { font-size: 1.35rem; }
  dl > div, .glance > div { grid-template-columns: 1fr; }
  #filter { grid-template-columns: 1fr 1fr; gap: .4rem 1rem; }
  #filter .seek { grid-column: 1 / -1; }
  .finding, .finding.critical, .finding.undecided, .finding.not-stated, .finding.conforms { padding-left: .6rem; } }
@page { margin: 14mm; }
@media print {
  :root { color-scheme: light; --paper: #fff; --ink: #000; --soft: #444; --line: #777; --field: #fff; --link: #000;
          --critical: #a8121f; --major: #7d4a00; --minor: #33475b; --open: #4a3b8f; }
  body { font-size: 10pt; max-width: none; margin: 0; padding: 0 1px; }
  #filter { display: none; }
  .on-paper:not([hidden]) { display: block; border: 2px solid #000; padding: .3rem .6rem; font-weight: bold; }
  .description + .description { break-before: page; border-top: 0; margin-top: 0; }
  a { text-decoration: none; }
  summary { list-style: none; color: inherit; break-after: avoid; }
  details dl > div { display: block; }
  details dt { font-style: italic; break-after: avoid; }
  details::details-content { content-visibility: visible; block-size: auto; }
  tr, li, .glance { break-inside: avoid; }
  .tag, .finding { print-color-adjust: exact; } }
)";
}

std::string_view inspection_script() {
    return R"(
(() => {
  'use strict';
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const named = (id) => document.getElementById(id);
  const findings = all('[data-verdict]');
  const proofs = all('details');
  const filter = named('filter');
  const boxes = all('input[type=checkbox]', filter);
  const words = named('filter-words');
  const texts = new Map(findings.map((finding) => [finding, finding.textContent.toLowerCase()]));

  const apply = () => {
    const left_out = new Set(boxes.filter((box) => !box.checked).map((box) => box.name + ':' + box.value));
    const sought = words.value.toLowerCase().split(/\s+/).filter((word) => word !== '');
    let shown = 0;
    for (const finding of findings) {
      const stays = !left_out.has('verdict:' + finding.dataset.verdict) &&
        !left_out.has('class:' + finding.dataset.class) &&
        sought.every((word) => texts.get(finding).includes(word));
      finding.hidden = !stays;
      if (stays) shown += 1;
    }
    for (const group of all('.group'))
      group.hidden = all('[data-verdict]', group).every((finding) => finding.hidden);
    const sentence = shown + ' of ' + findings.length + ' findings shown';
    if (named('filter-count').textContent !== sentence) named('filter-count').textContent = sentence;
    named('filter-paper').hidden = shown === findings.length;
    named('filter-paper').textContent = 'Filtered: only ' + shown + ' of ' + findings.length + ' findings are printed.';
  };
  const show_all = () => {
    for (const box of boxes) box.checked = true;
    words.value = '';
    apply();
  };
  const open_proofs = (open) => {
    for (const proof of proofs) proof.open = open;
  };

  for (const box of boxes) box.addEventListener('change', apply);
  words.addEventListener('input', apply);
  named('filter-reset').addEventListener('click', show_all);
  named('open-proofs').addEventListener('click', () => open_proofs(true));
  named('close-proofs').addEventListener('click', () => open_proofs(false));

  // A link may lead to what the filter hides.
  document.addEventListener('click', (event) => {
    const link = event.target.closest('a[href^="#"]');
    const target = link && named(link.getAttribute('href').slice(1));
    if (target && target.closest('[hidden]')) show_all();
  });

  let closed = [];
  window.addEventListener('beforeprint', () => {
    closed = proofs.filter((proof) => !proof.open);
    open_proofs(true);
  });
  window.addEventListener('afterprint', () => {
    for (const proof of closed) proof.open = false;
  });

  open_proofs(false);
  filter.hidden = false;
  apply();
})();
)";
}

}  // namespace packproof::report

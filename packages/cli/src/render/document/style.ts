/**
 * The one style sheet of the pages. Colours are our own: bank green-blue, sun ochre, unmet dark red, engine violet;
 * each also has a hatching, a mark or a label of its own.
 */
const LIGHT =
  '--paper:#fbfaf6;--ink:#1e2327;--faint:#566067;--hair:#d5d1c5;--tint:#f1eee5;--link:#0d5a61;' +
  '--bank:#1a6b70;--bank-soft:#c5dad5;--sun:#b97800;--sun-soft:#f0dcae;--unmet:#98240f;--unmet-soft:#e9b9aa;' +
  '--engine:#5f4a8b;--engine-soft:#d3cae4;--socket:#47606f;--socket-soft:#ccd8de;--load-soft:#d9d9d4;';
const DARK =
  '--paper:#14181b;--ink:#e9e6dd;--faint:#a4adb2;--hair:#3a4146;--tint:#1c2226;--link:#8fcdd0;' +
  '--bank:#6fbdbd;--bank-soft:#24494b;--sun:#e0a83a;--sun-soft:#4d3c14;--unmet:#ff8f75;--unmet-soft:#6b2618;' +
  '--engine:#b6a2e4;--engine-soft:#3f3360;--socket:#9bb9c9;--socket-soft:#2c3f4a;--load-soft:#3c4145;';

const SANS = "system-ui,'Segoe UI','DejaVu Sans',Helvetica,Arial,sans-serif";
const SERIF = "Charter,'Bitstream Charter','Sitka Text',Cambria,'DejaVu Serif',Georgia,serif";

/** What drawings are drawn with. */
const DRAWING = `
svg{display:block;max-width:100%;height:auto;font-family:${SANS};font-size:12px;fill:var(--ink)}
.t-faint{fill:var(--faint)}.t-bold{font-weight:600}.t-mid{text-anchor:middle}.t-end{text-anchor:end}
.t-over{stroke:var(--bank-soft);stroke-width:4px;stroke-linejoin:round;paint-order:stroke}
.t-halo{stroke:var(--paper);stroke-width:4px;stroke-linejoin:round;paint-order:stroke}
.hair{stroke:var(--hair)}.axis{stroke:var(--faint)}.mark{stroke:var(--ink);stroke-dasharray:2 3}
.hair,.axis,.mark,.line{fill:none}
.f-sun{fill:var(--sun)}.f-served{fill:var(--load-soft)}.f-bank{fill:var(--bank)}.f-bank-soft{fill:var(--bank-soft)}.f-ink{fill:var(--ink)}
.f-unmet{fill:url(#p-unmet)}.f-engine{fill:url(#p-engine)}.f-unused{fill:url(#p-unused)}.f-socket{fill:url(#p-socket)}
.bg-unmet{fill:var(--unmet-soft)}.ln-unmet{stroke:var(--unmet);stroke-width:2.4px}.bg-engine{fill:var(--engine-soft)}.ln-engine{stroke:var(--engine);stroke-width:3px}
.ln-unused{stroke:var(--sun);stroke-width:1.6px}.bg-socket{fill:var(--socket-soft)}.ln-socket{stroke:none;fill:var(--socket)}
.e-unmet{stroke:var(--unmet)}.e-engine{stroke:var(--engine)}.e-unused,.e-sun{stroke:var(--sun)}.e-socket{stroke:var(--socket)}.e-bank{stroke:var(--bank)}.e-ink{stroke:var(--ink)}
.line{stroke-width:1.7px;stroke-linejoin:round}
.soc0{--c:#f4ecd0}.soc1{--c:#cfdcc6}.soc2{--c:#a5c6bd}.soc3{--c:#74a9a8}.soc4{--c:#468a8e}.dark-hour{--c:#6b1002}.soc0,.soc1,.soc2,.soc3,.soc4,.dark-hour{fill:var(--c)}
.cells{shape-rendering:crispEdges}.cells path{stroke:var(--c);fill:none}.key{stroke:var(--faint);stroke-width:.7px}.bar{stroke:none;fill:var(--unmet)}
`;

/** The rules that a drawing in a file of its own needs: on white paper, for programs that know no variables. */
export function drawingStyle(svg: string): string {
  const used = new Set([...svg.matchAll(/class="([^"]+)"/g)].flatMap(([, names]) => names!.split(' ')));
  const rules = [...DRAWING.matchAll(/([^{}\n]+)\{.*?\}/g)].filter(([, selector]) =>
    selector!.split(',').some((one) => !one.startsWith('.') || used.has(one.slice(1))),
  );
  const light = new Map(LIGHT.split(';').map((rule) => rule.split(':') as [string, string]));
  return rules
    .map(([rule]) => rule.replace(/var\((--[\w-]+)\)/g, (as, name) => light.get(name) ?? as))
    .join('');
}

export const PAGE_STYLE = `
:root{color-scheme:light dark;${LIGHT}}
@media (prefers-color-scheme:dark){:root{${DARK}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;padding:2.2rem 1.1rem 3rem;max-width:50.2rem;background:var(--paper);color:var(--ink);font:1.0625rem/1.55 ${SERIF};overflow-wrap:break-word}
h1{text-wrap:balance;font-size:2rem;line-height:1.15;margin:0 0 .6rem;font-weight:600;letter-spacing:-.01em}
h2{font-size:1.35rem;line-height:1.25;margin:3.2rem 0 .35rem;padding-top:.7rem;border-top:3px solid var(--ink);font-weight:600}
h3{font:600 1rem/1.35 ${SANS};margin:1.6rem 0 .3rem}
p{margin:.4rem 0 .8rem;max-width:42rem}
header p{color:var(--faint);margin:.1rem 0;max-width:none}
.whole{white-space:nowrap}
.seen{font-size:1.14rem;line-height:1.5;margin:.3rem 0 1.1rem}
.verdict{font-size:1.5rem;line-height:1.35;font-weight:600;text-wrap:balance;margin:.4rem 0 1rem;padding-left:1rem;border-left:.5rem solid var(--bank)}
.verdict.fails{border-left:.5rem double var(--unmet)}
a{color:var(--link)}
a:focus-visible,summary:focus-visible,.scroll:focus-visible{outline:3px solid var(--link);outline-offset:2px}
nav ol{list-style:none;margin:1.3rem 0 0;padding:0;display:flex;flex-wrap:wrap;gap:0 1.1rem;font:.9rem/1.4 ${SANS}}
nav a{display:inline-block;padding:.15rem 0}
ul{padding-left:1.2rem;max-width:42rem}
li{margin:.25rem 0}
dl{margin:1rem 0;display:grid;grid-template-columns:repeat(auto-fill,minmax(15rem,1fr));gap:0 2rem;font:.95rem/1.4 ${SANS}}
dl div{display:flex;justify-content:space-between;gap:1rem;border-bottom:1px solid var(--hair);padding:.38rem 0}
dt{color:var(--faint)}
dd{margin:0;text-align:right;font-variant-numeric:tabular-nums}
figure{margin:1rem 0 .6rem}
figcaption{font:.88rem/1.45 ${SANS};color:var(--faint);margin-top:.35rem;max-width:46rem}
pre{font:.9rem/1.5 ui-monospace,'DejaVu Sans Mono',Consolas,monospace;background:var(--tint);padding:.7rem .9rem;white-space:pre-wrap;overflow-wrap:anywhere;margin:.5rem 0}
details{margin:.5rem 0;font-family:${SANS};font-size:.92rem}
summary{cursor:pointer;padding:.3rem 0;color:var(--link);width:fit-content;max-width:100%}
.scroll{overflow-x:auto;margin:.5rem 0 1rem;background:linear-gradient(to right,var(--paper) 40%,transparent) 0 0/2rem 100% no-repeat local,linear-gradient(to left,var(--paper) 40%,transparent) 100% 0/2rem 100% no-repeat local,linear-gradient(to right,var(--hair),transparent) 0 0/.7rem 100% no-repeat scroll,linear-gradient(to left,var(--hair),transparent) 100% 0/.7rem 100% no-repeat scroll}
caption::after{content:"wider than the screen: scrolls to the right";display:block;font-size:0;animation:scrolls linear both;animation-timeline:scroll(nearest inline)}
@keyframes scrolls{from,to{font-size:.8rem}}
table{border-collapse:collapse;font:.88rem/1.4 ${SANS};font-variant-numeric:tabular-nums}
caption{text-align:left;color:var(--faint);padding:.2rem 0 .4rem;max-width:calc(100vw - 2.2rem)}
.titled caption{font-size:0}
th,td{text-align:left;padding:.22rem 1rem .22rem 0;border-bottom:1px solid var(--hair);vertical-align:top;font-weight:400}
th:last-child,td:last-child{padding-right:0}
thead th{color:var(--faint);vertical-align:bottom;border-bottom:1px solid var(--ink)}
tfoot th,tfoot td{border-top:1px solid var(--ink);border-bottom:0;font-weight:600}
.n{text-align:right}td.n{white-space:nowrap}
.code{font-family:ui-monospace,'DejaVu Sans Mono',Consolas,monospace;font-size:.82rem;overflow-wrap:anywhere;min-width:8rem}
.words{min-width:13rem}
.weeks{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(21.5rem,100%),1fr));gap:.6rem 2rem}
.weeks h3{margin:.8rem 0 .1rem}
.weeks svg{width:100%}
.weeks figure{margin:0 0 .6rem}
.weeks p{font:.88rem/1.4 ${SANS};margin:0 0 .3rem}
footer{margin-top:3.5rem;border-top:1px solid var(--hair);font:.85rem/1.5 ${SANS};color:var(--faint)}
${DRAWING.trim()}
svg.patterns{position:absolute}
svg.narrow{display:none}
@media (max-width:40rem){body{padding:1.3rem 1rem 2rem;font-size:1rem}h1{font-size:1.55rem}.verdict{font-size:1.22rem}.seen{font-size:1.05rem}svg.wide{display:none}svg.narrow{display:block}dl{grid-template-columns:1fr}summary{padding:.55rem 0}}
@media print{@page turned{size:landscape}@page{margin:16mm 15mm 18mm;@bottom-right{content:counter(page) " of " counter(pages);font:8pt ${SANS};color:#566067}}:root{color-scheme:light;${LIGHT}--paper:#fff}body{max-width:none;padding:0;font-size:10.5pt;print-color-adjust:exact;-webkit-print-color-adjust:exact}nav{display:none}svg.wide{display:block}svg.narrow{display:none}h1{font-size:20pt}h2{font-size:14pt;margin-top:1.6rem;break-after:avoid}h3{break-after:avoid}.seen,.verdict{break-inside:avoid;break-after:avoid}.seen{font-size:11.5pt}.verdict{font-size:14pt}figure,.weeks>div,tr{break-inside:avoid}summary{color:var(--faint)}.scroll{overflow:visible;background:none}caption::after{content:none}.turned{page:turned}table{font-size:8.5pt}details::details-content{content-visibility:visible;block-size:auto}details:not([open]):not(.printed)::details-content{display:none}details:not([open]):not(.printed)>summary::after{content:" (folded: open it to have it printed)"}.printed>summary{display:none}.code{font-size:8pt}a{color:inherit;text-decoration:none}.weeks{grid-template-columns:1fr 1fr}}
`.trim();

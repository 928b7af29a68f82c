/**
 * How the job sheet looks: one style for desk, phone and paper. Ink on white, one accent; light on dark where a screen is set so, but
 * pictures and paper stay light. Every state that a colour tells is told by a word too. Contrast of text is
 * 4.5 : 1 or better throughout.
 */
export const STYLE: string = `
:root{--ink:#1d2b36;--soft:#4c5a64;--line:#c9cfd3;--accent:#7b1f5c;--good:#1f5c2e;--bad:#9a1f12;--look:#8a4300;--wash:#f3f1ea;--page:#fff}
@media screen and (prefers-color-scheme:dark){:root{color-scheme:dark;--ink:#e6e9ea;--soft:#a9b4bb;--line:#45515a;--accent:#e59bc9;--good:#8fcf9f;--bad:#ff9c8f;--look:#f0b071;--wash:#27323a;--page:#172027}}
*{box-sizing:border-box}
html{font:16px/1.45 system-ui,"Segoe UI",Roboto,"DejaVu Sans",sans-serif;color:var(--ink);background:var(--page)}
body{max-width:64rem;margin:0 auto;padding:1rem 1.25rem 3rem}
h1{font-size:1.9rem;line-height:1.15;margin:.4rem 0}
h2{font-size:1.35rem;margin:2.2rem 0 .6rem;padding-top:.5rem;border-top:3px solid var(--accent)}
h3{font-size:1.05rem;margin:1rem 0 .3rem}
p{margin:.5rem 0}
code{font:.95em ui-monospace,"DejaVu Sans Mono",monospace;overflow-wrap:anywhere}
.small,.where,.facts{font-size:.9rem;color:var(--soft)}
nav ul{display:flex;flex-wrap:wrap;gap:.2rem 1rem;list-style:none;margin:.6rem 0;padding:0}
a{color:var(--accent)}
a:focus-visible,input:focus-visible,summary:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.trial{border:5px double var(--bad);color:var(--bad);padding:.6rem .8rem;margin:.8rem 0}
.verdict{border:2px solid;border-left-width:10px;padding:.5rem .8rem;margin:.8rem 0}
.good{border-color:var(--good)}.good strong{color:var(--good)}
.bad{border-color:var(--bad)}.bad strong{color:var(--bad)}
table{border-collapse:collapse;width:100%;margin:.8rem 0;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:600;padding:.2rem 0}
th,td{text-align:left;vertical-align:top;padding:.3rem .9rem .3rem 0;border-bottom:1px solid var(--line)}
tbody th{min-width:7rem;overflow-wrap:anywhere}
thead th{font-size:.85rem;color:var(--soft);border-bottom:2px solid var(--ink)}
.number{text-align:right;white-space:nowrap}
.long{overflow-wrap:anywhere;min-width:9rem}
.pair{white-space:nowrap}
.plates{display:flex;flex-wrap:wrap;gap:.4rem 1.4rem;align-items:end}
.plate{width:min-content;min-width:11rem;max-width:100%;margin:.4rem 0}
.plate figcaption{margin-left:2rem;overflow-wrap:anywhere}
.sized{display:grid;grid-template-columns:1.6rem auto;gap:.25rem .4rem;width:max-content;max-width:100%;font-size:.9rem;font-variant-numeric:tabular-nums}
.sized svg{display:block;max-width:100%;overflow:visible}
.tall{writing-mode:vertical-rl;transform:rotate(180deg);text-align:center;border-left:1px solid var(--soft)}
.wide{grid-column:2;text-align:center;border-top:1px solid var(--soft)}
figure{margin:1rem 0;break-inside:avoid}
.picture{overflow-x:auto;margin:.5rem 0;border:1px solid var(--line);clear:both}
.larger{display:none}
.picture svg{display:block;width:100%;height:auto;max-height:80vh}
.columns{columns:24rem 2;column-gap:2.5rem}
.group{break-inside:avoid;padding-bottom:.7rem}
.group h3{margin-top:0}
.ticks,.programs,.findings{padding:0;margin:.3rem 0;list-style:none}
.todo{padding:0 0 0 1.1rem;margin:.3rem 0}
.ticks li,.file{display:flex;gap:.6rem;align-items:baseline;margin:.35rem 0}
input[type=checkbox]{flex:none;width:1.1rem;height:1.1rem;margin:0;accent-color:var(--accent);transform:translateY(.15rem)}
.blank{width:5.5rem;border:0;border-bottom:1.5px solid var(--ink);background:var(--wash);font:inherit;padding:.1rem .3rem;border-radius:0}
.programs{counter-reset:program}
.programs>li{counter-increment:program;position:relative;padding:.4rem 0 .6rem 3rem;border-bottom:1px solid var(--line);break-inside:avoid}
.programs>li::before{content:counter(program);position:absolute;left:0;top:.5rem;width:2rem;height:2rem;line-height:2rem;text-align:center;border-radius:50%;background:var(--ink);color:var(--page);font-weight:700}
.programs .file{margin:.3rem 0;font-size:1.1rem}
.programs .facts{margin:.2rem 0}
.figures{display:flex;flex-wrap:wrap;gap:.4rem 1.6rem;margin:.4rem 0}
.figures dt{font-size:.85rem;color:var(--soft)}
.figures dd{margin:0;font-weight:600}
.findings li{border-left:6px solid var(--line);padding:.25rem .7rem;margin:.4rem 0}
.findings .stop{border-color:var(--bad)}.findings .stop strong{color:var(--bad)}
.findings .warn{border-color:var(--look)}.findings .warn strong{color:var(--look)}
footer{margin-top:2.5rem;border-top:1px solid var(--line);padding-top:.6rem;font-size:.9rem;color:var(--soft)}
@media (max-width:40rem){
body{padding:.6rem .8rem 2rem}
h1{font-size:1.5rem}
thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
tr{display:block;border-bottom:1px solid var(--line);padding:.35rem 0}
tbody th,tbody td,td.number{display:flex;justify-content:space-between;gap:1rem;text-align:right;border:0;padding:.12rem 0}
tbody th{font-size:1.05rem;text-align:left}
tbody td{overflow-wrap:anywhere;min-width:0}
thead th{white-space:normal}
tbody td:empty{display:none}
.two tbody tr{display:flex;justify-content:space-between;gap:1rem;align-items:baseline}
.two tbody th{font-size:1rem;font-weight:400}
.two td::before{display:none}
td::before{content:attr(data-head);color:var(--soft);font-size:.88rem;text-align:left;flex:none;max-width:45%}
.blank{width:6.5rem;min-height:2.2rem}
.larger{display:inline-block;line-height:2.4rem}
.larger:checked~.picture svg{width:60rem;max-height:none}
.ticks li{padding:.15rem 0}
}
@media print{
@page{margin:14mm 12mm}
html{font-size:9.5pt}
a{color:inherit;text-decoration:none}
body{max-width:none;padding:0}
nav,.screen,.larger{display:none}
[aria-labelledby=before]{break-before:page;font-size:9pt;line-height:1.35}
[aria-labelledby=before] h2{margin-top:0}
[aria-labelledby=before] li{margin:.22rem 0}
.group{padding-bottom:.35rem}
[aria-labelledby=sources],[aria-labelledby=proof] table{font-size:8.5pt;line-height:1.35}
.programs>li::before{background:none;color:var(--ink);border:2px solid var(--ink);line-height:1.7rem}
.plate{break-inside:avoid}
h2,h3,caption{break-after:avoid}
thead{display:table-header-group}
tr{break-inside:avoid}
.columns{columns:2}
.blank{background:none}
.picture{overflow:visible}
.picture svg{min-width:0;max-height:150mm}
}
`;

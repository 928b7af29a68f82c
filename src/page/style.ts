/**
 * How the page looks: the job sheet's own style, and what a desk needs beside it. Light and dark; whatever a colour
 * says, a word or a shape says too. Pictures stay on paper in the dark, since the job sheet will be on paper.
 */
import { PLAYER_STYLE } from "../core/jobsheet/motion/player-style.ts";
import { STYLE } from "../core/jobsheet/style.ts";

export const PAGE_STYLE: string = `${STYLE}${PLAYER_STYLE}
:root{color-scheme:light dark;--field:#fff;--edge:#75828b}
@media screen and (prefers-color-scheme:dark){:root{--field:#10151a;--edge:#87939c}}
html{background:var(--page)}
body{max-width:none;padding:0}
.page{max-width:120rem;margin:0 auto;padding:0 1.25rem 2rem}
.hidden{position:absolute;width:1px;height:1px;margin:0;overflow:hidden;clip-path:inset(50%)}
h2{margin:1.6rem 0 .5rem;scroll-margin-top:1rem}
button,.choose{font:inherit;color:var(--ink);background:var(--wash);border:1px solid var(--edge);border-radius:.2rem;padding:.3rem .7rem;cursor:pointer;min-height:2.2rem}
button:hover,.choose:hover{border-color:var(--accent);color:var(--accent)}
button:disabled{color:var(--soft);border-color:var(--line);cursor:default;background:none}
button.main:enabled{background:var(--accent);border-color:var(--accent);color:var(--page);font-weight:600}
button[aria-pressed=true]{border-color:var(--accent);box-shadow:inset 0 -3px 0 var(--accent)}
.choose{display:inline-flex;align-items:center}
.choose input{position:absolute;width:1px;height:1px;opacity:0}
.choose:focus-within,button:focus-visible,select:focus-visible,textarea:focus-visible,pre:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.acts,.begin{display:flex;flex-wrap:wrap;gap:.5rem;margin:.5rem 0}
.notice{margin:.4rem 0;border-left:6px solid var(--accent);padding:.2rem .7rem}
.notice:empty{border:0;padding:0;margin:0}
.top{display:flex;flex-wrap:wrap;align-items:center;gap:.4rem 1rem;padding:.6rem 0}
.mark{font-weight:700;font-size:1.15rem;margin:0;letter-spacing:.02em}
.job-name{display:flex;align-items:center;gap:.5rem;flex:1 1 14rem}
.job-name span{color:var(--soft);font-size:.9rem}
.job-name input{flex:1;font-weight:600}
.tools{display:flex;flex-wrap:wrap;gap:.4rem}
.busy{flex-basis:100%;margin:0;display:flex;align-items:center;gap:.6rem;color:var(--soft);font-size:.9rem;min-height:2.2rem}
.spin{width:.9rem;height:.9rem;border:2px solid var(--line);border-top-color:var(--accent);border-radius:50%;animation:turn 1s linear infinite}
@keyframes turn{to{transform:rotate(1turn)}}
.way ol{display:grid;grid-template-columns:repeat(5,minmax(0,1fr));list-style:none;margin:0;padding:0}
.way li{position:relative;padding:1.1rem .5rem .4rem 0}
.way li::before{content:"";position:absolute;top:.45rem;left:0;right:0;border-top:3px solid var(--line)}
.way li::after{content:"";position:absolute;top:.05rem;left:0;width:.85rem;height:.85rem;border-radius:50%;background:var(--good)}
.way .look::after{background:var(--look);border-radius:0;clip-path:polygon(50% 0,100% 100%,0 100%)}
.way .stop::after{background:var(--bad);border-radius:0}
.way .wait::after{background:var(--page);border:3px solid var(--soft)}
.way a{display:block;color:var(--ink);text-decoration:none}
.way a:hover strong{color:var(--accent);text-decoration:underline}
.way span{display:block;font-size:.85rem;color:var(--soft)}
.desk{display:grid;grid-template-columns:minmax(0,1fr);gap:0 2rem}
.part{min-width:0}
.part h2{font-size:1.15rem}
.thing{border:1px solid var(--line);border-radius:.2rem;margin:.4rem 0;padding:0 .8rem}
.thing>summary,.result>summary,.more>summary{cursor:pointer;padding:.45rem 0}
.thing>summary{overflow-wrap:anywhere}
.thing[open]{padding-bottom:.6rem}
.more>summary{color:var(--soft);font-size:.9rem}
.result{border-top:1px solid var(--line)}
.result>summary{font-weight:600}
.result h2{font-size:1.15rem;border-top-width:1px}
.count{font-weight:600}
.count.stop,.stop>strong{color:var(--bad)}
.count.warn{color:var(--look)}
.fields{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,11.5rem),1fr));gap:.5rem .9rem;align-items:start}
.field{display:flex;flex-direction:column;min-width:0}
.field label,.keepouts legend,.layers legend{font-size:.88rem;font-weight:600}
.field .entry{display:flex;align-items:center;gap:.35rem}
.field.flag{flex-direction:row;flex-wrap:wrap;align-items:center;gap:.3rem .5rem}
.field.flag label{order:2}
.field.flag .about,.field.flag .said{order:3;flex-basis:100%}
.field.wide{grid-column:span 2}
@media (max-width:26rem){.field.wide{grid-column:auto}}
.unit{color:var(--soft);font-size:.85rem;white-space:nowrap}
input[type=text],select,textarea{font:inherit;color:var(--ink);background:var(--field);border:1px solid var(--edge);border-radius:.2rem;padding:.25rem .45rem;min-width:0;width:100%;min-height:2.2rem}
input[type=text].amount{max-width:6.5rem;text-align:right;font-variant-numeric:tabular-nums}
input::placeholder{color:var(--soft);opacity:1;font-style:italic}
input[aria-invalid=true],select[aria-invalid=true]{border:2px solid var(--bad)}
.entry:has(input[type=checkbox]){order:1}
.about{display:none;font-size:.82rem;color:var(--soft)}
.field:focus-within .about,.field:hover .about{display:block}
.said .line{display:block;border-left:5px solid var(--line);padding:.15rem .5rem;margin:.25rem 0;font-size:.9rem;overflow-wrap:anywhere}
.said .stop{border-color:var(--bad)}.said .warn{border-color:var(--look)}
.page .question,.toset,.fault,.old{border:2px solid var(--look);border-left-width:8px;padding:.4rem .7rem;margin:.5rem 0}
.fault{border-color:var(--bad)}
.fault pre{overflow:auto;font-size:.8rem;max-height:14rem}
.plain{list-style:none;padding:0;margin:.4rem 0;font-size:.93rem}
fieldset{border:1px solid var(--line);border-radius:.2rem;margin:.7rem 0 .3rem;padding:.4rem .7rem;min-width:0}
.layers label{display:flex;align-items:center;gap:.5rem;margin:.25rem 0;font-size:.93rem;flex-wrap:wrap}
.layers .name{overflow-wrap:anywhere}
.layers select{width:auto}
.row{display:flex;flex-wrap:wrap;gap:.3rem .8rem;align-items:end;border-bottom:1px solid var(--line);padding:.35rem 0}
.row .field{flex:0 1 auto}
.row input[type=text].amount{width:5rem}
.row .about{display:none!important}
textarea{font:13px/1.5 ui-monospace,"DejaVu Sans Mono",monospace;resize:vertical;white-space:pre;overflow:auto}
.tools,.choices,.question{border:0;margin:0;padding:0;min-width:0}
.choices{display:flex;flex-wrap:wrap;gap:.4rem;margin:.7rem 0 .4rem}
.choices button{overflow-wrap:anywhere;max-width:100%}
figure{margin:0}
.picture{background:#fff;color:#1d2b36;max-height:70vh;overflow:auto}
.sheet .picture svg{max-height:none}
.stack{position:relative;margin:0 auto;width:calc(min(100%,66vh * var(--aspect,1)) * var(--zoom,1))}
.drawn .picture svg{max-height:66vh}
.over{position:absolute;inset:0;height:100%!important}
.over .plate{fill:#7b1f5c;fill-opacity:0;stroke:transparent;stroke-width:1.4;cursor:grab;touch-action:none;outline:none}
.over .plate.held{cursor:default;touch-action:auto}
.over .plate.fixed{stroke:#1d2b36;stroke-width:.9;stroke-dasharray:3 1.5}
.over .plate.lit,.over .plate:hover{stroke:#7b1f5c;fill-opacity:.12;stroke-dasharray:none}
.over .plate:focus-visible{stroke:#7b1f5c;stroke-width:2;fill-opacity:.2;stroke-dasharray:none}
.over .plate.moving{fill-opacity:.35;stroke:#7b1f5c;cursor:grabbing}
.over .plate.blocked{fill:#9a1f12;fill-opacity:.4;stroke:#9a1f12;stroke-width:2}
.over .mark path{fill:#8a4300;stroke:#fff;stroke-width:.4}
.over .mark.stop path{fill:#9a1f12}
.over .mark.note path{fill:#4c5a64}
.over .mark text{fill:#fff;font-weight:700;pointer-events:none}
.over .ring{fill:none;stroke:#7b1f5c;stroke-width:1.2}
.live{min-height:1.5em;margin:.3rem 0;font-variant-numeric:tabular-nums}
.found .findings li{padding:0;display:block}
.found .findings button{display:block;width:100%;text-align:left;background:none;border:0;padding:.3rem .6rem;overflow-wrap:anywhere}
.found .findings .number{font-weight:700;color:var(--soft);margin-right:.5rem}
.found .findings .hint{display:block;padding:0 .6rem .35rem 1.6rem;color:var(--soft);font-size:.9rem;font-style:italic}
.found .findings .lit{background:var(--wash);outline:2px solid var(--accent)}
.start{max-width:46rem;margin:1.5rem auto}
.airframes{list-style:none;padding:0}
.airframes li{display:flex;flex-wrap:wrap;align-items:center;gap:.2rem .8rem;margin:.5rem 0}
.result .picture svg{max-height:40vh}
.thumb{background:#fff}
.blank{background:var(--wash)}
.programs>li::before{color:var(--page)}
@media (min-width:68rem){
.desk{grid-template-columns:minmax(22rem,30rem) minmax(0,1fr)}
.form{grid-column:1;grid-row:1}
.seen{grid-column:2;grid-row:1;position:sticky;top:0;max-height:100vh;overflow:auto;padding:0 .2rem 2rem}
}
@media (max-width:40rem){
.page{padding:0 .8rem 2rem}
.way ol{grid-template-columns:minmax(0,1fr)}
.way li{padding:.15rem 0 .15rem 1.6rem}
.way li::before{top:0;bottom:0;left:.35rem;right:auto;border-top:0;border-left:3px solid var(--line)}
.way li::after{top:.6rem}
.way a{display:flex;justify-content:space-between;gap:1rem;min-height:2rem;align-items:center}
.tools{width:100%}
.sheet .picture svg{min-width:0}

}
@media (prefers-reduced-motion:reduce){.spin{animation:none}}
`;

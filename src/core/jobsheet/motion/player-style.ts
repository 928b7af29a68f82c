/**
 * How the player looks, in whatever page: colours come from the page's own variables. Wide: picture left, figures right;
 * narrow: one below the other, the buttons as large as a thumb. Never printed.
 */
export const PLAYER_STYLE: string = `
.player-all{display:grid;gap:.8rem 1.4rem;grid-template-columns:minmax(0,1fr) 18.5rem;grid-template-areas:"choices choices" "view side" "drive drive"}
.player-choices{grid-area:choices;display:flex;flex-wrap:wrap;gap:.5rem .9rem;align-items:end}
.player-view{grid-area:view;min-width:0}
.player-side{grid-area:side;min-width:0}
.player-drive{grid-area:drive;display:flex;flex-wrap:wrap;gap:.4rem 1.4rem;align-items:end}
.player-field{display:flex;flex-direction:column;gap:.15rem;font-size:.9rem;color:var(--soft);min-width:0}
.player-field select,.player-field input{font:inherit;font-size:1rem;color:var(--ink);background:var(--page);border:1.5px solid var(--soft);border-radius:0;padding:.3rem .4rem;min-height:2.4rem;max-width:100%}
.player-choices .player-field:first-child{flex:1 1 14rem}
.player-short input{width:6.5rem}
.player-clock{flex:1 1 24rem}
.player-clock input{width:100%;padding:0;border:0;background:none;accent-color:var(--accent)}
.player-picture{position:relative;margin:0 auto;outline:1px solid var(--line);background:#fff}
.player-stock,.player-marks{position:absolute;inset:0;display:block}
.player-marks{pointer-events:none}
.player-depth{margin:.5rem .2rem 0;padding-bottom:1.5rem}
.player-scale{position:relative;height:.9rem;outline:1px solid var(--soft)}
.player-tick{position:absolute;top:1rem;font-size:.82rem;color:var(--soft);white-space:nowrap}
.player-tick::before{content:"";position:absolute;left:0;top:-1rem;height:1.1rem;border-left:1px solid var(--soft)}
.player-last{transform:translateX(-100%)}
.player-last::before{left:100%}
.player-now{position:absolute;top:-.35rem;height:1.6rem;border-left:3px solid #fff;outline:2px solid var(--accent);margin-left:-1.5px}
.player-now[hidden]{display:none}
.player-figures{margin:0;display:grid;gap:.15rem .9rem;font-variant-numeric:tabular-nums}
.player-figures div{display:grid;grid-template-columns:5.2rem minmax(0,1fr);align-items:baseline}
.player-figures dt{font-size:.88rem;color:var(--soft)}
.player-figures dd{margin:0;font-weight:600;overflow-wrap:anywhere}
.player-lines{list-style:none;margin:.8rem 0 0;padding:0;border:1px solid var(--line);font-size:.88rem}
.player-lines li{display:flex;gap:.6rem;padding:.1rem .5rem;min-height:2.65rem;line-height:1.4;border-left:5px solid transparent}
.player-lines b{flex:none;min-width:3.2rem;text-align:right;font-weight:400;color:var(--soft);font-variant-numeric:tabular-nums}
.player-lines code{min-width:0;overflow:hidden}
.player-lines code span{display:inline-block;white-space:pre}
.player-lines [aria-current]{background:var(--wash);border-left-color:var(--accent);font-weight:600}
.player-buttons{display:flex;gap:.6rem}
.player-buttons button{font:inherit;font-weight:600;min-height:2.75rem;min-width:6.2rem;padding:.3rem 1rem;color:var(--accent);background:var(--page);border:2px solid var(--accent);border-radius:0;cursor:pointer}
.player-buttons button:first-child{color:var(--page);background:var(--accent)}
.player-all :focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.player-note{flex:1 0 100%;min-height:1.4em;margin:0;font-size:.9rem}
@media (max-width:52rem){
.player-all{grid-template-columns:minmax(0,1fr);grid-template-areas:"choices" "view" "drive" "side"}
.player-figures{grid-template-columns:1fr 1fr}
.player-figures div{grid-template-columns:minmax(0,1fr);align-content:start}
.player-buttons{flex:1 0 100%}
.player-buttons button{flex:1 1 0;min-width:0;padding:.3rem .4rem}
.player-choices{display:grid;grid-template-columns:1fr 1fr 5.5rem;gap:.5rem .6rem}
.player-choices .player-field:first-child{grid-column:1/-1}
.player-choices select,.player-short input{width:100%}
}
@media print{.player-all{display:none}}
`;

/** Style of the plan on paper: it leaves the page, so it brings its own. */
export const planStyle = `
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0 auto;padding:1rem;max-width:56rem;font:1rem/1.4 system-ui,sans-serif;color:#111;background:#fff;overflow-wrap:anywhere}
h1{font-size:1.4rem;line-height:1.2;margin:0 0 .4rem}
h2{font-size:1.1rem;margin:1.1rem 0 .3rem;border-bottom:2px solid #111;break-after:avoid}
p,ul{margin:.3rem 0}
ul{padding-left:1.2rem}
ul.remedies-boxes{list-style:none;padding-left:0}
ul.remedies-boxes>li{position:relative;padding-left:1.7rem;margin:.35rem 0;break-inside:avoid}
.remedies-box{position:absolute;left:0;top:.15rem;width:1rem;height:1rem;border:1.5px solid #111}
td .remedies-box{position:static;display:inline-block}
.remedies-warn{border:2px solid #111;padding:.3rem .7rem;margin:.6rem 0}
table{border-collapse:collapse;width:100%;font-size:.85rem;overflow-wrap:normal}
th,td{border-bottom:1px solid #666;padding:.2rem .35rem;text-align:left;vertical-align:top}
thead th{border-bottom:2px solid #111}
tr{break-inside:avoid}
.remedies-sign{display:flex;gap:1.5rem;flex-wrap:wrap;margin-top:2rem}
.remedies-sign span{flex:1 1 12rem;border-top:1px solid #111;padding-top:.2rem}
details>summary{list-style:none}
@media print{body{max-width:none;padding:0;font-size:9.5pt;line-height:1.3}}
@page{margin:14mm}
`;

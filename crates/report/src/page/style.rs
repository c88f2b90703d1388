//! The page's look: the drawings' colours by their roles, light, dark and print, one type family, room around things.

use toothsayer_figures::{Look, Role};

/// The rules; colours come from the drawings' roles, so that page and drawings are one.
pub(crate) fn style() -> String {
    let print = colours(Look::Print);
    format!(
        ":root{{{}}}\n@media (prefers-color-scheme:dark){{:root{{{}}}}}\n{RULES}@media print{{:root{{{print}}}{PRINT}}}\n{}\n",
        colours(Look::Light),
        colours(Look::Dark),
        Look::Page.style()
    )
}

/// The roles that the page uses beside the drawings.
const USED: [(&str, Role); 13] = [
    ("paper", Role::Paper),
    ("ink", Role::Ink),
    ("quiet", Role::Quiet),
    ("line", Role::Line),
    ("metal", Role::Metal),
    ("metal-2", Role::Metal2),
    ("accent", Role::Accent),
    ("bad", Role::Bad),
    ("bad-tint", Role::BadTint),
    ("doubt", Role::Doubt),
    ("doubt-tint", Role::DoubtTint),
    ("good", Role::Good),
    ("good-tint", Role::GoodTint),
];

fn colours(look: Look) -> String {
    USED.iter().map(|(name, role)| format!("--{name}:{};", role.colour(look))).collect()
}

const RULES: &str = "\
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:16px/1.55 'DejaVu Sans',Verdana,'Noto Sans',sans-serif;\
-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:64rem;padding:0 1.25rem 3rem}
h1,h2,h3{line-height:1.25;text-wrap:balance}
h1{font-size:clamp(1.6rem,5vw,2.5rem);margin:0;overflow-wrap:anywhere}
h2{font-size:1.35rem;margin:3rem 0 1rem;padding-top:.75rem;border-top:2px solid var(--ink)}
h3{font-size:1rem;margin:1.5rem 0 .5rem}
p,ul,ol,dl{margin:0 0 1rem;max-width:46rem;overflow-wrap:anywhere}
li{margin:0 0 .5rem}
a{color:var(--accent);text-underline-offset:.2em}
:focus-visible{outline:3px solid var(--accent);outline-offset:3px}
.skip{position:absolute;left:-100rem}
.skip:focus{left:1rem;top:1rem;padding:.6rem 1rem;background:var(--paper);z-index:1}
header{padding:2.5rem 0 0}
.kicker{margin:0 0 .25rem;color:var(--quiet);font-size:.85rem;letter-spacing:.12em;text-transform:uppercase}
.under{color:var(--quiet);margin:.5rem 0 0}
.look{display:grid;grid-template-columns:repeat(auto-fit,minmax(10.5rem,1fr));gap:.75rem;margin:1.75rem 0 0;max-width:none}
.look div{padding:.8rem 1rem;border-left:4px solid var(--line);background:var(--metal);display:flex;\
flex-direction:column;justify-content:space-between;gap:.35rem}
.look dt{font-size:.82rem;color:var(--ink)}
.look dd{margin:0;font-weight:700;font-size:1.1rem}
.look .good{background:var(--good-tint);border-color:var(--good)}
.look .doubt{background:var(--doubt-tint);border-color:var(--doubt)}
.look .bad{background:var(--bad-tint);border-color:var(--bad)}
nav ul{display:flex;flex-wrap:wrap;gap:.25rem 1.25rem;list-style:none;padding:0;margin:1.5rem 0 0;max-width:none}
nav li{margin:0}
nav a{display:inline-block;padding:.35rem 0}
figure{margin:1.25rem 0;overflow:hidden}
figure svg{display:block;max-width:100%;height:auto;margin:0 auto}
figure.narrow{display:none}
details{margin:-.5rem 0 1.25rem;color:var(--quiet)}
summary{cursor:pointer;padding:.35rem 0;font-size:.88rem}
details p{font-size:.88rem}
.small,.quiet{color:var(--quiet)}
.small{font-size:.88rem}
li .small{margin:.15rem 0 0}
.good{color:var(--good)}.doubt{color:var(--doubt)}.bad{color:var(--bad)}
.scrolls{overflow-x:auto;margin:1rem 0 1.5rem}
table{border-collapse:collapse;width:100%;font-size:.9rem}
th,td{padding:.5rem .9rem .5rem 0;text-align:left;vertical-align:top;border-bottom:1px solid var(--line)}
th{border-bottom:2px solid var(--ink)}
.right{text-align:right;white-space:nowrap}
.notice{padding:.9rem 1.1rem;margin:1.25rem 0;border-left:4px solid var(--line);background:var(--metal);color:var(--ink)}
.notice.doubt{background:var(--doubt-tint);border-color:var(--doubt)}
.notice.bad{background:var(--bad-tint);border-color:var(--bad)}
.notice.good{background:var(--good-tint);border-color:var(--good)}
.notice h3{margin:0 0 .5rem}
.notice ul{margin:0;padding-left:1.1rem}
.facts{display:grid;gap:.25rem}
.facts div{display:grid;grid-template-columns:11rem 1fr;gap:1rem}
.facts dt{color:var(--quiet)}
.facts dd{margin:0}
footer{margin-top:3rem;padding-top:1rem;border-top:1px solid var(--line);color:var(--quiet);font-size:.88rem}
@media (max-width:46rem){
figure.wide{display:none}figure.narrow{display:block;margin-left:-.9rem;margin-right:-.9rem}
.facts div{grid-template-columns:1fr;gap:0}.facts{gap:.6rem}
.look{grid-template-columns:1fr 1fr}.look div:first-child,.look div:nth-child(2),.look div:last-child{grid-column:1/-1}
thead{position:absolute;left:-100rem}
table,tbody,tr,td{display:block;width:auto}
tr{padding:.6rem 0;border-bottom:1px solid var(--line)}
td{border:0;padding:.1rem 0}
td:first-child{font-weight:700}
td[data-head]:not(:first-child)::before{content:attr(data-head) ': ';color:var(--quiet)}
.right{text-align:left;white-space:normal}
}
";

const PRINT: &str = "html{font-size:11pt}body{max-width:none;padding:0}nav,.skip,summary{display:none}\
figure.narrow{display:none}figure.wide{display:block}figure svg{max-height:17cm}figure,.notice,tr{break-inside:avoid}h2,h3{break-after:avoid}\
.scrolls{overflow:visible}";

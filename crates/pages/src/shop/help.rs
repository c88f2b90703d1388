//! Help: the drawing and its numbers, how a check is answered, what the words mean, and what hands must know.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::drawing::anchor;
use crate::job::opinion::{Opinion, weigh};
use crate::job::parts::checks_of;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use crate::page::words::sentence;
use axum::extract::{Extension, State};
use axum::response::Response;

/// The truck that the drawing shows: the invented one of the examples.
const EXAMPLE: &str = include_str!("../../../../examples/tarnhorn.toml");

/// How a check is answered, in order.
const ANSWERING: [&str; 6] = [
    "Begin with what stands under “Look next”: it changes the repair most for its minutes, and what has to come off first is counted.",
    "Yes means: so it is, as the question asks. No means: looked at, and it is not so. What nobody looked at stays open.",
    "A measured value tells more than a yes. Write it with its unit: 0.45 mm, 0.018 in, 3.4 N*m, 30 lbf*in.",
    "Causes and drawing follow at once. An answer can be given again; the newest counts.",
    "If somebody else answered the same meanwhile, their answer is shown and yours stays on the page.",
    "“Photo of this” keeps a picture beside the answer. The place where it was taken is not kept.",
];

/// What is put right where, in order.
const PUTTING_RIGHT: [&str; 5] = [
    "“Build” tells how the truck is built: what was told, and below each empty field what is assumed instead. A miscounted tooth, another wheel, a measured stiffness go there. The truck remembers what it was before.",
    "Under “As sold” stand the maker's values where the owner changed something: then the verdict tells which change took how much. Under “After the work” stands what was measured when it was done.",
    "“What the customer came with”, on the same page, holds complaint, their words, the promised day and who pays.",
    "A name or a telephone number is put right on the customer's page, the truck's name on the truck's.",
    "An answer is taken back where it was given. A signature stays: whoever does a step again signs again, and the newest counts.",
];

/// How the work is written down, in order.
const WORKING: [&str; 5] = [
    "Each step of the agreed repair stands in bench order. “Done” signs for it with your name and the time.",
    "A tightened joint asks how tight. Outside its window the note must say why it stays so.",
    "The clock is yours: it goes on with the next step when you sign, and several jobs can be open. The times make the next plans better; nobody is judged by them.",
    "The parts go from the plan onto the job's list, from the list to an order or off the shelf, and into the truck. A gear of other teeth or another pitch is refused.",
    "When all is done, “Lead the job on” tells that it was checked, that it can be collected, and that it was.",
];

/// How a yes is asked for and told, in order.
const AGREEING: [&str; 4] = [
    "“Alternatives” shows what each repair costs and how likely the truck comes back; new gears alone are among them. Lines of your own are added to whichever is taken.",
    "“Offer these” keeps the prices as they are told to the customer. The yes or no is noted at the counter, after a call, or comes by the customer's own link.",
    "A yes goes up to the price that was told. What costs more is asked again before work goes on.",
    "The link is made under “Hand-over”. It shows this job alone, ends by itself, and can be revoked.",
];

/// The words, each with what it means and the part of the address that leads to it.
const WORDS: [(&str, &str, &str); 15] = [
    ("margin", "Margin", "What a part bears over what is asked of it. Below 1 it fails; 1.5 means half as much again."),
    ("holds", "Holds", "No margin is below 1, and no chance of falling below it reaches 5 %."),
    (
        "unsure",
        "Unsure",
        "On the usual values it holds, but what is not measured could change that. One measurement is named that settles it most.",
    ),
    (
        "fails",
        "Fails",
        "A margin is below 1. Beside it stands at which step: as sold, with what was fitted, in the condition found, or only with this driving.",
    ),
    (
        "chance",
        "Chance",
        "How likely something is on what is known so far. It moves with each answer. It is never an accusation.",
    ),
    (
        "cause",
        "Cause",
        "What may have taken the teeth. Usually there are several: what broke these, and what will break the next set if it stays.",
    ),
    ("finding", "Finding", "An answered check: who saw what, when, and what was measured."),
    (
        "states",
        "As sold, as built, as found, as repaired",
        "The same truck four times: as its maker sells it; with its parts and settings in good order; as it came; with the repair done.",
    ),
    ("comeback", "Comeback", "Another strip within the runs that count; the owner sets how many in the settings."),
    (
        "smallest-sound",
        "Smallest sound",
        "The cheapest repair that cures what would surely take the next set and comes back less likely than not.",
    ),
    ("recommended", "Recommended", "Of the sound repairs the one of the least expected cost, a comeback's included."),
    ("sturdiest", "Sturdiest", "The repair that comes back least likely."),
    (
        "window",
        "How tight and no tighter",
        "From the torque that holds to the one that the weakest thread, head or screw bears. A torque that the maker prints goes first.",
    ),
    ("assumed", "Assumed", "A value that nobody measured. It says where it comes from, and how to measure it."),
    ("tag", "Tag", "The truck's own short name on its label. It finds the truck and its history."),
];

/// What hands must know.
const CAUTIONS: [&str; 7] = [
    "Battery out, motor leads unplugged, and a moment for the controller's capacitors before fingers go near gears.",
    "A swollen or damaged pack is not taken in, not charged and stays outside; local rules on storage and disposal decide.",
    "No full throttle with the wheels off the ground without a guard: tyres grow and can burst.",
    "Eyes protected against fragments. Motor, controller and gears are hot after a run.",
    "Thread locker on metal threads only. A screw too long in a motor's face reaches its windings.",
    "A weaker brake lengthens the way to a stop: the repair says by how much; bystanders and venue decide.",
    "Figures are estimates for hobby-size machines, not a design approval. Where people can be hurt, the venue's and the local rules and the makers' instructions come first.",
];

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    let (system, own) = (app.system().await?, app.clone());
    let key = format!("{system:?}\n{EXAMPLE}");
    let opinion = app.desk.computed(&key, move |memo| weigh(EXAMPLE, own.book(), system, memo)).await?;
    let told = [
        Html::from(tag("h1").say("Help")),
        contents(),
        drawing(&app, &opinion),
        list("checks", "How to answer a check", &ANSWERING),
        list("put-right", "How to put something right", &PUTTING_RIGHT),
        list("agree", "How a yes is asked for", &AGREEING),
        list("work", "How the work is written down", &WORKING),
        words(),
        list("cautions", "What hands must know", &CAUTIONS),
    ];
    Ok(page(&Frame::of("Help", &seat), tag("main").with("id", "main").all(told).into()))
}

fn contents() -> Html {
    let links = [
        ("#drawing", "The drawing"),
        ("#checks", "Answering a check"),
        ("#put-right", "Putting something right"),
        ("#agree", "The customer's yes"),
        ("#work", "The work"),
        ("#words", "What the words mean"),
        ("#cautions", "Cautions"),
    ];
    let links = links.map(|(address, words)| tag("a").with("href", address).say(words).into());
    tag("nav").class("way").with("aria-label", "On this page").all(links).into()
}

fn drawing(app: &App, opinion: &Opinion) -> Html {
    let told = "Each part of the drawing bears a number, in the order in which the bench meets it. Touch a part on a job's \
                bench sheet, and its checks open; here, what they ask. The truck is an invented one: its motor rocks.";
    let (shown, parts) = match &opinion.bay {
        Ok(drawn) => (drawn.html.clone(), drawn.parts.as_slice()),
        Err(why) => (tag("p").class("notice doubt").say(&format!("It cannot be drawn: {why}.")).into(), &[][..]),
    };
    let lines = parts.iter().enumerate().map(|(place, name)| {
        let head = tag("h3").say(&format!("{} {}", place + 1, sentence(name)));
        let asked = checks_of(name).filter_map(|check| app.book().finding(check));
        let asked = asked.map(|entry| tag("li").say(&entry.question).into());
        let asked = tag("ul").all(asked.collect::<Vec<_>>());
        tag("section").class("part").with("id", &anchor(place + 1)).hold(head).hold(asked).into()
    });
    let told = [Html::from(tag("h2").say("The drawing")), tag("p").say(told).into(), shown, Html::of(lines)];
    tag("section").with("id", "drawing").all(told).into()
}

fn list(id: &str, head: &str, lines: &[&str]) -> Html {
    let lines = lines.iter().map(|line| tag("li").say(line).into());
    tag("section").with("id", id).hold(tag("h2").say(head)).hold(tag("ul").all(lines)).into()
}

fn words() -> Html {
    let lines = WORDS.iter().map(|(id, word, meaning)| {
        Html::of([tag("dt").with("id", &format!("word-{id}")).say(word).into(), tag("dd").say(meaning).into()])
    });
    let told = [Html::from(tag("h2").say("What the words mean")), tag("dl").class("words").all(lines).into()];
    tag("section").with("id", "words").all(told).into()
}

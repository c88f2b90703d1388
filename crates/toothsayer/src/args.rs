//! What may be typed.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

mod paper;
mod records;
mod serve;
mod shell;
pub use paper::*;
pub use records::*;
pub use serve::*;
pub use shell::*;

const EXAMPLES: &str = "Examples:
  toothsayer demo
  toothsayer begin --mass \"10.4 kg\" --cells 7 --kv \"980 rpm/V\" --teeth 19/53 --pitch \"1 mm\" --wheel \"188 mm, 410 g\" -o truck.toml
  toothsayer fault-book                 the checks, in bench order, to be answered under [[findings]]
  toothsayer margins truck.toml         what holds, what fails, and at which step
  toothsayer why truck.toml             the causes, and what to look at next
  toothsayer plan truck.toml            repairs with price and chance of a comeback

The strength figures are estimates for hobby-size machines, not a design approval. Battery out before fingers go near gears.";

/// Why the teeth went, and whether the next set will hold.
#[derive(Debug, Parser)]
#[command(name = "toothsayer", version, after_help = EXAMPLES, max_term_width = 100)]
pub struct Cli {
    #[command(flatten)]
    pub global: Global,
    #[command(subcommand)]
    pub command: Command,
}

/// Options of every command.
#[derive(Debug, Args)]
pub struct Global {
    /// Print machine-readable results in SI units
    #[arg(long, global = true)]
    pub json: bool,
    /// Units that people see
    #[arg(long, global = true, value_enum, default_value = "metric")]
    pub units: Units,
    /// Show the inputs, formula and source of each figure
    #[arg(long, global = true)]
    pub explain: bool,
    /// Use another fault book
    #[arg(long, global = true, value_name = "FILE")]
    pub fault_book: Option<PathBuf>,
    /// Fix the random draws
    #[arg(long, global = true, default_value_t = toothsayer_verdict::USUAL_SEED)]
    pub seed: u32,
}

/// Families of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Millimetres, newtons
    Metric,
    /// Inches, pounds
    Us,
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Do the whole job on the example truck, then serve the bench pages of an invented shop until Ctrl-C
    #[command(
        after_help = "The shop is thrown away at the end.\nExamples:\n  toothsayer demo\n  toothsayer demo --no-serve     the job alone, for scripts"
    )]
    Demo(DemoArgs),
    /// Begin a job from five facts: a complete file, or the first verdict with --json
    #[command(
        after_help = "Example:\n  toothsayer begin --mass \"10.4 kg\" --cells 7 --kv \"980 rpm/V\" --teeth 19/53 --pitch \"1 mm\" --wheel \"188 mm, 410 g\" -o truck.toml"
    )]
    Begin(BeginArgs),
    /// What each part bears over what is asked of it, by state
    #[command(
        after_help = "Examples:\n  toothsayer margins truck.toml\n  toothsayer margins truck.toml --points --all      every load case, without ranges\n  toothsayer margins truck.toml --narrow            what to measure first, for every state\n  toothsayer margins truck.toml --explain           inputs, formula and source of each figure"
    )]
    Margins(MarginsArgs),
    /// Will it hold if I fit these? Margins before and after, what each change took, what would make it hold
    #[command(
        after_help = "No truck at hand? Five facts are enough:\n  toothsayer begin --mass \"10.4 kg\" --cells 7 --kv \"980 rpm/V\" --teeth 19/53 --pitch \"1 mm\" --wheel \"188 mm, 410 g\" | toothsayer change - --set \"wheels.mass=800 g\"\nKEY is one of the job file's: wheels.mass, battery.cells, gears.pinion.teeth, joints.NAME.torque ...\nExamples:\n  toothsayer change truck.toml --set \"wheels.mass=800 g\" --set \"battery.cells=8\"\n  toothsayer change truck.toml --set \"joints.motor to mount.torque=3 N*m\" --points"
    )]
    Change(ChangeArgs),
    /// What would have to change for it to hold? The smallest changes, then everything that the shop can fit and set
    #[command(
        after_help = "Examples:\n  toothsayer explore truck.toml\n  toothsayer explore truck.toml --top-speed-at-least \"15 m/s\" --stop-within \"20 m\"\n  toothsayer explore truck.toml --margin-at-least 1.5 --json"
    )]
    Explore(ExploreArgs),
    /// The causes with their evidence, and the most useful next check
    #[command(
        after_help = "Answer a check in the file, then run again:\n  [[findings]]\n  check = \"motor-rocks\"\n  answer = \"yes\"\n  value = \"0.45 mm\"\nExamples:\n  toothsayer why truck.toml --explain                how every figure comes about\n  toothsayer why truck.toml motor-loose              one cause: evidence for and against, and what would change it"
    )]
    Why(WhyArgs),
    /// Repairs in alternatives, with work, torques, price and chance of a comeback
    #[command(
        after_help = "Prices come from [shop] in the file: labour_rate, comeback_cost, parts.\nExample:\n  toothsayer plan truck.toml --units us"
    )]
    Plan(FileArgs),
    /// What to look at or tighten again, after which run, and why; as text or as a calendar file
    #[command(
        after_help = "Runs are counted from the hand-over. They become days where you say how often the truck runs.\nExamples:\n  toothsayer care truck.toml\n  toothsayer care truck.toml --calendar -o care.ics --from 2026-12-01 --runs-per-week 2"
    )]
    Care(CareArgs),
    /// Whose fault is it? The step at which each part falls short, with the figures as found, without blame
    #[command(
        after_help = "What was sold stands under [stock] in the file.\nExample:\n  toothsayer statement truck.toml"
    )]
    Statement(FileArgs),
    /// Joints: what they clamp, how tight and no tighter
    #[command(
        after_help = "Examples:\n  toothsayer screws truck.toml                      as found\n  toothsayer screws truck.toml --state proposed     with the recommended repair"
    )]
    Screws(StateArgs),
    /// What bench tools should read on the gears, and what a reading tells
    #[command(
        after_help = "Examples:\n  toothsayer measure truck.toml                                  span, pins, play at the rim, centre distance\n  toothsayer measure truck.toml --gear spur --span \"19.9 mm\"      how worn is it?\n  toothsayer measure truck.toml --backlash-at-rim \"0.12 mm\"       from the rim to the pitch circle"
    )]
    Measure(MeasureArgs),
    /// The pair of gears and the stack on the motor's shaft
    #[command(
        after_help = "Examples:\n  toothsayer gears truck.toml --state built\n  toothsayer gears truck.toml --outlines --json     both outlines in mesh, in metres"
    )]
    Gears(GearsArgs),
    /// Speeds, currents, heat of a run, way to a stop, makers' limits
    #[command(
        after_help = "Examples:\n  toothsayer motor truck.toml                       as found\n  toothsayer motor truck.toml --state built --json  temperatures in degC, else SI"
    )]
    Motor(StateArgs),
    /// One blow to the driveline, simulated
    #[command(
        after_help = "Cases: launch, full-brake, landing-on-throttle, landing-on-brake, landing-coasting, reversal, wheel-stop\nExample:\n  toothsayer shock truck.toml --case landing-on-throttle --drop \"0.8 m\"\n  toothsayer shock truck.toml --case full-brake --trace brake.csv"
    )]
    Shock(ShockArgs),
    /// How many runs the teeth last, and which of the driver's events spends them
    #[command(
        after_help = "Examples:\n  toothsayer life truck.toml                        as found\n  toothsayer life truck.toml --state built          in good order\n  toothsayer life truck.toml --state proposed --json"
    )]
    Life(StateArgs),
    /// A mesh that walks: how the motor slides away from the spur, event after event, until the teeth ride over
    #[command(
        after_help = "Examples:\n  toothsayer walk truck.toml                        full brakes, the joint as found\n  toothsayer walk truck.toml --state built --torque \"1.4 N*m\" --clearance \"1 mm\"     hand-tight in slots\n  toothsayer walk truck.toml --every-event          launches, brakes, landings as they come in a run\n  toothsayer walk truck.toml --case reversal --joint \"mount to chassis\" --json"
    )]
    Walk(WalkArgs),
    /// Which gear is this? Module or diametral pitch from teeth and a caliper reading
    #[command(after_help = "Example:\n  toothsayer identify --teeth 19 --tip-diameter \"21.0 mm\"")]
    Identify(IdentifyArgs),
    /// Materials of gears, threads and screws: the names that a job file takes, and what is known of each
    #[command(
        after_help = "Examples:\n  toothsayer materials\n  toothsayer materials case-hardened\n  toothsayer materials 12.9"
    )]
    Materials(MaterialsArgs),
    /// What is known of causes, checks and work; one entry in plain words
    #[command(
        after_help = "Examples:\n  toothsayer fault-book                 every check, in bench order\n  toothsayer fault-book motor-rocks     one check: how to look, what it points to\n  toothsayer fault-book --check own.toml     a shop's own book: what it holds, or all that is wrong\n  toothsayer fault-book motor-loose --graph | dot -Tsvg > motor.svg"
    )]
    FaultBook(FaultBookArgs),
    /// A drawing of the job: the gear bay to scale, margins, forces, causes, prices
    #[command(
        after_help = "Examples:\n  toothsayer figure truck.toml -o bay.svg                                 the gear bay as found\n  toothsayer figure truck.toml --state found --beside proposed -o both.png    two states side by side\n  toothsayer figure truck.toml --kind margins --look print --width 700 -o margins.svg"
    )]
    Figure(FigureArgs),
    /// What leaves the shop: hand-over, quote, bench sheet, label and more as PDF, or the verdict as one page
    #[command(
        after_help = "Examples:\n  toothsayer paper truck.toml -o hand-over.pdf\n  toothsayer paper truck.toml --kind quote --customer \"A. Fernhill\" --date 2026-12-01 -o quote.pdf\n  toothsayer paper truck.toml --kind page -o verdict.html\n  toothsayer paper truck.toml --all -o papers\n  toothsayer paper truck.toml --size letter --units us -o hand-over.pdf"
    )]
    Paper(PaperArgs),
    /// The shop's records: list, show, find, import, export, check
    Records(RecordsArgs),
    /// Write the whole shop into one file, consistent while others work, and read it back
    #[command(
        after_help = "Examples:\n  toothsayer backup shop-2026-11-26.jsonl\n  toothsayer backup shop.jsonl --replace --database postgres://bench@localhost/records"
    )]
    Backup(BackupArgs),
    /// Fill empty records with a backup, on SQLite or PostgreSQL; all of it or nothing
    #[command(
        after_help = "Examples:\n  toothsayer restore shop-2026-11-26.jsonl --database new.sqlite\n  toothsayer restore shop.jsonl --database postgres://bench@localhost/records"
    )]
    Restore(RestoreArgs),
    /// The bench pages, to this machine or to the shop's network, until Ctrl-C
    #[command(
        after_help = "The first run prints an address with a one-time code: there the owner's account is made.\nExamples:\n  toothsayer serve\n  toothsayer serve --database shop.sqlite\n  toothsayer serve --listen 0.0.0.0:7878 --host bench.example --certificate shop.pem --key shop-key.pem\n  toothsayer serve --host bench.example --https     behind a proxy that does the encryption\ndocs/operations.md says more."
    )]
    Serve(ServeArgs),
    /// Shell completions on standard output
    Completions(CompletionsArgs),
    /// Manual pages: one on standard output, or all of them into a folder
    #[command(
        after_help = "Examples:\n  toothsayer manual | man -l -\n  toothsayer manual margins | man -l -\n  toothsayer manual --into man1"
    )]
    Manual(ManualArgs),
}

#[derive(Debug, Args)]
pub struct BeginArgs {
    /// Mass ready to run, battery in ("10.4 kg")
    #[arg(long, allow_hyphen_values = true)]
    pub mass: String,
    /// Lithium cells in series
    #[arg(long)]
    pub cells: u32,
    /// Motor speed per volt ("980 rpm/V")
    #[arg(long, required_unless_present = "can", allow_hyphen_values = true)]
    pub kv: Option<String>,
    /// Size of the motor's can instead ("56 mm x 80 mm")
    #[arg(long, value_name = "DIAMETER x LENGTH", allow_hyphen_values = true)]
    pub can: Option<String>,
    /// Teeth of pinion and spur ("19/53")
    #[arg(long, value_name = "PINION/SPUR", allow_hyphen_values = true)]
    pub teeth: String,
    /// Module ("1 mm") or diametral pitch ("32 1/in"); `toothsayer identify` tells it from a caliper reading
    #[arg(long, allow_hyphen_values = true)]
    pub pitch: String,
    /// Diameter and mass of a wheel ("188 mm, 410 g")
    #[arg(long, value_name = "DIAMETER, MASS", allow_hyphen_values = true)]
    pub wheel: String,
    /// The truck's name
    #[arg(long)]
    pub name: Option<String>,
    /// Class whose usual values stand in; by mass where not given
    #[arg(long, value_name = "CLASS")]
    pub start: Option<String>,
    /// Write the job file here
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct FileArgs {
    /// The job file
    pub file: PathBuf,
}

#[derive(Debug, Args)]
pub struct CareArgs {
    /// The job file
    pub file: PathBuf,
    /// The days as a calendar file (RFC 5545): on standard output, or where -o says
    #[arg(long)]
    pub calendar: bool,
    /// Write the calendar file here
    #[arg(short, long, value_name = "FILE", requires = "calendar")]
    pub output: Option<PathBuf>,
    /// Day of the hand-over (2026-12-01)
    #[arg(long, value_name = "DAY")]
    pub from: Option<String>,
    /// How often the truck runs
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub runs_per_week: Option<f64>,
}

#[derive(Debug, Args)]
pub struct WhyArgs {
    /// The job file
    pub file: PathBuf,
    /// One cause, by its id, in sentences to be read aloud with the numbers below
    pub cause: Option<String>,
    /// Write the network of causes, ways to fail and checks here, for any library that reads BIF
    #[arg(long, value_name = "OUT.bif")]
    pub network: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct MarginsArgs {
    /// The job file
    pub file: PathBuf,
    /// Point values only, at once, without ranges
    #[arg(long)]
    pub points: bool,
    /// Every load case, not only the least of each part
    #[arg(long)]
    pub all: bool,
    /// Which measurement would narrow each state's verdict most, not only where it is unsure
    #[arg(long, conflicts_with = "points")]
    pub narrow: bool,
}

#[derive(Debug, Args)]
pub struct ChangeArgs {
    /// The job file; - for standard input
    pub file: PathBuf,
    /// A change, in the words of the job file; up to six, weighed together
    #[arg(long, value_name = "KEY=VALUE", required = true)]
    pub set: Vec<String>,
    /// Which state of the truck is changed
    #[arg(long, value_enum, default_value = "built")]
    pub state: StateName,
    /// Point values only, at once, without ranges
    #[arg(long)]
    pub points: bool,
}

#[derive(Debug, Args)]
pub struct ExploreArgs {
    /// The job file
    pub file: PathBuf,
    /// Which state of the truck is changed
    #[arg(long, value_enum, default_value = "built")]
    pub state: StateName,
    /// Margin from which on it counts as holding
    #[arg(long, value_name = "MARGIN", default_value_t = 1.0)]
    pub margin_at_least: f64,
    /// Slowest top speed that will do ("15 m/s")
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub top_speed_at_least: Option<String>,
    /// Longest way to a stop from the speed of a full brake ("20 m")
    #[arg(long, value_name = "WAY", allow_hyphen_values = true)]
    pub stop_within: Option<String>,
}

/// States of a truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum StateName {
    /// As the maker sells it
    Stock,
    /// With its owner's parts and settings, in good order
    Built,
    /// As it came to the bench
    Found,
    /// With the recommended repair
    Proposed,
    /// As measured when the work was done
    After,
}

#[derive(Debug, Args)]
pub struct StateArgs {
    /// The job file
    pub file: PathBuf,
    /// Which state of the truck
    #[arg(long, value_enum, default_value = "found")]
    pub state: StateName,
}

/// One of the two gears.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum GearName {
    /// The gear on the motor's shaft
    Pinion,
    /// The gear that it drives
    Spur,
}

#[derive(Debug, Args)]
pub struct MeasureArgs {
    #[command(flatten)]
    pub of: StateArgs,
    /// The gear that a span or a size over pins was read on
    #[arg(long, value_enum, default_value = "pinion")]
    pub gear: GearName,
    /// Caliper reading over some teeth ("7.6 mm")
    #[arg(long, conflicts_with = "over_pins")]
    pub span: Option<String>,
    /// Teeth between the jaws; as many as the reading fits where not given
    #[arg(long, requires = "span")]
    pub span_teeth: Option<u32>,
    /// Reading over two pins ("22.9 mm")
    #[arg(long)]
    pub over_pins: Option<String>,
    /// Diameter of the pins ("1.75 mm"); as `measure` tells where not given
    #[arg(long, requires = "over_pins")]
    pub pin: Option<String>,
    /// Play read at the spur's rim with the pinion held ("0.12 mm")
    #[arg(long)]
    pub backlash_at_rim: Option<String>,
}

#[derive(Debug, Args)]
pub struct GearsArgs {
    #[command(flatten)]
    pub of: StateArgs,
    /// With --json: the outlines of both gears, in mesh
    #[arg(long)]
    pub outlines: bool,
}

#[derive(Debug, Args)]
pub struct ShockArgs {
    #[command(flatten)]
    pub of: StateArgs,
    /// The load case
    #[arg(long)]
    pub case: String,
    /// Height of the drop ("0.8 m")
    #[arg(long, allow_hyphen_values = true)]
    pub drop: Option<String>,
    /// Speed: of the landing, or from which the truck brakes ("8 m/s")
    #[arg(long, allow_hyphen_values = true)]
    pub speed: Option<String>,
    /// Brake strength in brake cases, else throttle strength (0.6 or "60 %")
    #[arg(long, allow_hyphen_values = true)]
    pub strength: Option<String>,
    /// How far the lash stands open against the blow, 0 to 1 or a percentage
    #[arg(long, allow_hyphen_values = true)]
    pub phase: Option<String>,
    /// Write force, torque, current and speeds over time into this CSV file
    #[arg(long, value_name = "FILE")]
    pub trace: Option<PathBuf>,
}

/// What can be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum FigureKind {
    /// Pinion and spur in mesh, the motor's shaft in section, the parts in bench order
    GearBay,
    /// What each part bears over what is asked of it, with ranges, and where it fails
    Margins,
    /// The causes with what the findings make of them
    Causes,
    /// One cause opened: what speaks for and against it, and what would change it (--cause)
    Evidence,
    /// Tooth force over time, a panel for each load case
    Force,
    /// Price of each repair against the chance of a comeback
    Price,
    /// Chance of a comeback over the next runs, by repair
    Comeback,
    /// Margins while one setting goes from one end to the other: needs --sweep
    Sweep,
    /// Clamp of each joint over the next runs
    Clamp,
    /// Chance that the teeth are still whole over the runs
    Life,
    /// One pair of teeth from its first touch to its last: who carries the load
    Mesh,
    /// What stands along the motor's shaft, with tolerances
    Stack,
    /// Which screw goes where, its length, what it bites into, to which torque
    Screws,
    /// What comes off in which order for the recommended repair
    Removal,
}

/// Colours of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum LookName {
    /// Light or dark as the reader prefers; a PNG is light
    Page,
    /// Dark on light
    Light,
    /// Light on dark
    Dark,
    /// Black on white
    Print,
}

#[derive(Debug, Args)]
pub struct FigureArgs {
    #[command(flatten)]
    pub of: StateArgs,
    /// What is drawn
    #[arg(long, value_enum, default_value = "gear-bay")]
    pub kind: FigureKind,
    /// Another state of the truck beside it: gear bay and margins
    #[arg(long, value_enum, value_name = "STATE")]
    pub beside: Option<StateName>,
    /// The cause that the kind evidence opens; the likeliest culprit where none is named
    #[arg(long, value_name = "CAUSE")]
    pub cause: Option<String>,
    /// A setting and its ends for the kind sweep: "controller.brake_strength=20 % .. 100 %"
    #[arg(long, value_name = "KEY=FROM..TO")]
    pub sweep: Option<String>,
    /// Margins at point values only: faster, without ranges
    #[arg(long)]
    pub points: bool,
    /// Width in px, 320 to 2400; 700 fill a page of A4
    #[arg(long, default_value_t = 960.0)]
    pub width: f64,
    /// Colours
    #[arg(long, value_enum, default_value = "page")]
    pub look: LookName,
    /// Write it here, as .svg or .png; SVG on standard output where not given
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct WalkArgs {
    #[command(flatten)]
    pub of: StateArgs,
    /// The load case that comes again and again
    #[arg(long, default_value = "full-brake", conflicts_with = "every_event")]
    pub case: String,
    /// Every case of the driver's run in turn, as often as it comes
    #[arg(long)]
    pub every_event: bool,
    /// The joint that may slide; the one that carries the motor where not given
    #[arg(long, value_name = "NAME")]
    pub joint: Option<String>,
    /// Torque that its screws are tightened to ("1.4 N*m"); as the state has it where not given
    #[arg(long)]
    pub torque: Option<String>,
    /// Free travel of its screws in their holes or slots ("1 mm"); that of medium clearance holes where not given
    #[arg(long)]
    pub clearance: Option<String>,
}

#[derive(Debug, Args)]
pub struct IdentifyArgs {
    /// Number of teeth
    #[arg(long)]
    pub teeth: u32,
    /// Caliper reading over the tips ("21.0 mm")
    #[arg(long)]
    pub tip_diameter: String,
    /// Caliper reading over some teeth, to tell close ones apart ("7.6 mm")
    #[arg(long)]
    pub span: Option<String>,
}

#[derive(Debug, Args)]
pub struct MaterialsArgs {
    /// The material or screw class to explain
    pub name: Option<String>,
}

#[derive(Debug, Args)]
pub struct FaultBookArgs {
    /// The entry to explain: a cause, check, step, mode, complaint or part that comes off
    pub entry: Option<String>,
    /// Check a shop's own book, and say what it holds or everything that is wrong
    #[arg(long, value_name = "FILE", conflicts_with = "entry")]
    pub check: Option<PathBuf>,
    /// The book, or one entry with its neighbours, as a graph in the DOT language of Graphviz
    #[arg(long, conflicts_with = "check")]
    pub graph: bool,
}

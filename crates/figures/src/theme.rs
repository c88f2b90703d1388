//! The colours by their role, for light, dark and print; a page switches them by CSS variables.

/// What a colour is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// The sheet.
    Paper,
    /// Text and outlines.
    Ink,
    /// Less important text.
    Quiet,
    /// Leaders, axes, hatching; never text.
    Line,
    /// The body of most parts.
    Metal,
    /// The body of the other gear.
    Metal2,
    /// The motor's shaft.
    Shaft,
    /// Curves and the line of contact.
    Accent,
    /// What fails.
    Bad,
    /// Behind what fails.
    BadTint,
    /// What is tight or doubtful.
    Doubt,
    /// Behind what is tight.
    DoubtTint,
    /// What holds.
    Good,
    /// Behind what holds.
    GoodTint,
}

impl Role {
    /// Every role.
    pub const ALL: [Role; 14] = [
        Role::Paper,
        Role::Ink,
        Role::Quiet,
        Role::Line,
        Role::Metal,
        Role::Metal2,
        Role::Shaft,
        Role::Accent,
        Role::Bad,
        Role::BadTint,
        Role::Doubt,
        Role::DoubtTint,
        Role::Good,
        Role::GoodTint,
    ];

    /// Name of its CSS variable, and its colours in light, dark and print.
    fn row(self) -> (&'static str, [&'static str; 3]) {
        match self {
            Role::Paper => ("paper", ["#fbfaf6", "#15181c", "#ffffff"]),
            Role::Ink => ("ink", ["#1f2429", "#ece9e3", "#000000"]),
            Role::Quiet => ("quiet", ["#555c64", "#adb4bb", "#3a3a3a"]),
            Role::Line => ("line", ["#868d94", "#717982", "#767676"]),
            Role::Metal => ("metal", ["#e8e4da", "#2b3036", "#f0f0f0"]),
            Role::Metal2 => ("metal-2", ["#d8e2e5", "#22353d", "#dedede"]),
            Role::Shaft => ("shaft", ["#f3f3f1", "#3a4148", "#ffffff"]),
            Role::Accent => ("accent", ["#14548c", "#8cc2f2", "#000000"]),
            Role::Bad => ("bad", ["#98290f", "#ff9f88", "#000000"]),
            Role::BadTint => ("bad-tint", ["#f6dfd6", "#45231b", "#e2e2e2"]),
            Role::Doubt => ("doubt", ["#6f4b00", "#f0c977", "#000000"]),
            Role::DoubtTint => ("doubt-tint", ["#f5e8c8", "#3c3013", "#efefef"]),
            Role::Good => ("good", ["#1b5639", "#93d6b0", "#000000"]),
            Role::GoodTint => ("good-tint", ["#dcecdf", "#1b3727", "#fafafa"]),
        }
    }

    /// Its colour in a fixed look, as #rrggbb; the light one where the page decides.
    pub fn colour(self, look: Look) -> &'static str {
        let (_, [light, dark, print]) = self.row();
        match look {
            Look::Page | Look::Light => light,
            Look::Dark => dark,
            Look::Print => print,
        }
    }
}

/// Which colours a figure carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// CSS variables: the reader's preference, or the page, decides.
    Page,
    /// Light, fixed.
    Light,
    /// Dark, fixed.
    Dark,
    /// Black on white, fixed.
    Print,
}

impl Look {
    /// What a shape is painted with.
    pub(crate) fn paint(self, role: Role) -> String {
        let (name, [light, ..]) = role.row();
        match self {
            Look::Page => format!("var(--figure-{name}, {light})"),
            fixed => role.colour(fixed).to_owned(),
        }
    }

    /// The style sheet that sets the variables; empty where the colours are fixed. A page whose policy allows no style
    /// within the drawing carries it in its own style sheet.
    pub fn style(self) -> String {
        if self != Look::Page {
            return String::new();
        }
        let set = |place: usize| -> String {
            Role::ALL
                .iter()
                .map(|role| role.row())
                .map(|(name, all)| format!("--figure-{name}:{};", all[place]))
                .collect()
        };
        format!(
            ".bench-figure{{{}}}\n@media (prefers-color-scheme:dark){{.bench-figure{{{}}}}}\n\
             [data-theme=light] .bench-figure{{{}}}\n[data-theme=dark] .bench-figure{{{}}}\n\
             @media print{{.bench-figure.bench-figure{{{}}}}}",
            set(0),
            set(1),
            set(0),
            set(1),
            set(2)
        )
    }
}

/// Contrast of two colours given as #rrggbb, 1 to 21 (WCAG 2.2, contrast ratio); none where one is no such colour.
///
/// (L1 + 0.05)/(L2 + 0.05) with the relative luminances L = 0.2126 R + 0.7152 G + 0.0722 B of the linear components.
pub fn contrast(one: &str, other: &str) -> Option<f64> {
    let (one, other) = (luminance(one)?, luminance(other)?);
    Some((one.max(other) + 0.05) / (one.min(other) + 0.05))
}

fn luminance(colour: &str) -> Option<f64> {
    let hex = colour.strip_prefix('#').filter(|hex| hex.len() == 6)?;
    let part = |from: usize| -> Option<f64> {
        let share = f64::from(u8::from_str_radix(hex.get(from..from + 2)?, 16).ok()?) / 255.0;
        Some(if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) })
    };
    Some(0.2126 * part(0)? + 0.7152 * part(2)? + 0.0722 * part(4)?)
}

//! The measures of a paper: sheet, margins, sizes of letters.

/// The sheet that a paper is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 mm x 297 mm (ISO 216).
    A4,
    /// 8.5 in x 11 in.
    Letter,
    /// A label of 90 mm x 50 mm.
    Label,
}

/// Points in a millimetre.
pub(crate) const MM: f32 = 72.0 / 25.4;

impl PaperSize {
    /// Width and height.
    pub(crate) fn pt(self) -> [f32; 2] {
        match self {
            PaperSize::A4 => [210.0 * MM, 297.0 * MM],
            PaperSize::Letter => [612.0, 792.0],
            PaperSize::Label => [90.0 * MM, 50.0 * MM],
        }
    }

    /// Space around the text.
    pub(crate) fn margin_pt(self) -> f32 {
        if self == PaperSize::Label { 4.0 * MM } else { 18.0 * MM }
    }

    /// Space for the line at the foot, within the lower margin.
    pub(crate) fn has_foot(self) -> bool {
        self != PaperSize::Label
    }

    /// Width of the text.
    pub(crate) fn text_pt(self) -> f32 {
        self.pt()[0] - 2.0 * self.margin_pt()
    }

    /// Height of the text.
    pub(crate) fn column_pt(self) -> f32 {
        self.pt()[1] - 2.0 * self.margin_pt()
    }
}

/// A size of letters with the distance of its lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Size {
    pub size_pt: f32,
    pub leading_pt: f32,
}

pub(crate) const TITLE: Size = Size { size_pt: 17.0, leading_pt: 21.0 };
pub(crate) const HEADING: Size = Size { size_pt: 11.5, leading_pt: 15.0 };
pub(crate) const HEADING_2: Size = Size { size_pt: 9.5, leading_pt: 13.0 };
pub(crate) const BODY: Size = Size { size_pt: 9.0, leading_pt: 13.0 };
pub(crate) const SMALL: Size = Size { size_pt: 7.8, leading_pt: 11.0 };

/// From the top of a line to its letters' foot, over the size: capitals of 0.73 in the middle of the leading.
pub(crate) fn baseline_pt(size: Size) -> f32 {
    0.5 * (size.leading_pt + 0.73 * size.size_pt)
}

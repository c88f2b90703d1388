//! The basic rack that the teeth are cut to.

use super::limits;
use crate::Error;

/// A basic rack, all in modules (ISO 53 symbols haP*, hfP*, rhofP*).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rack {
    /// Addendum haP* of the gear's rack.
    pub addendum: f64,
    /// Dedendum hfP* of the gear's rack: how deep the tool cuts below the reference line.
    pub dedendum: f64,
    /// Root radius rhofP*: the tool's tip radius.
    pub root_radius: f64,
}

impl Rack {
    /// Profile A of ISO 53: addendum 1, dedendum 1.25, root radius 0.38.
    pub const ISO_53_A: Self = Self { addendum: 1.0, dedendum: 1.25, root_radius: 0.38 };

    pub(super) fn check(&self) -> Result<(), Error> {
        limits::ADDENDUM.check(self.addendum)?;
        limits::DEDENDUM.check(self.dedendum)?;
        limits::ROOT_RADIUS.check(self.root_radius)?;
        Ok(())
    }

    /// Distance of the tool tip radius' centre from the middle of the tool's tooth, in modules: E/m of ISO 6336-3.
    ///
    /// Negative where the tool has no room for both of its radii; its tooth then ends in a point.
    pub(super) fn fillet_centre(&self, alpha_rad: f64) -> f64 {
        std::f64::consts::FRAC_PI_4
            - self.dedendum * alpha_rad.tan()
            - (1.0 - alpha_rad.sin()) * self.root_radius / alpha_rad.cos()
    }

    /// Depth of the tool's straight flank below its reference line, in modules: hfP* - rhofP* (1 - sin alpha).
    pub(super) fn straight_depth(&self, alpha_rad: f64) -> f64 {
        self.dedendum - self.root_radius * (1.0 - alpha_rad.sin())
    }
}

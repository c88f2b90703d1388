//! A round window on the mesh: what lies in it is enlarged and cut off at its rim.

use super::Mesh;
use crate::canvas::{Canvas, Shape};
use crate::theme::Role;
use crate::view::View;
use svg::node::element::Element;
use toothsayer_mechanics::gear::Member;

/// Half of what a glass shows, in modules.
pub(crate) const SHOWN_MODULES: f64 = 3.9;

/// Where the glass stands and what it enlarges.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Glass {
    pub middle_px: [f64; 2],
    pub radius_px: f64,
    pub view: View,
}

impl Glass {
    /// A glass about the pitch point.
    pub(crate) fn on(mesh: &Mesh<'_>, middle_px: [f64; 2], radius_px: f64) -> Glass {
        let module = mesh.pair.tooth(Member::Pinion).spec().module.to_mm();
        let px_per_mm = radius_px / (SHOWN_MODULES * module);
        let pitch = mesh.pair.working_radius(Member::Pinion).to_mm();
        let view = View { origin_px: [middle_px[0] - pitch * px_per_mm, middle_px[1]], px_per_mm };
        Glass { middle_px, radius_px, view }
    }

    /// A group that is cut off at the rim, on paper.
    pub(crate) fn group(&self, canvas: &mut Canvas, id: &str) -> Shape {
        let clip = canvas.id(&format!("{id}-clip"));
        let mut window = Shape(Element::new("clipPath")).with("id", clip.clone());
        window.push(Shape::circle(self.middle_px, self.radius_px));
        canvas.draw(window);
        let mut group = self.view.group(canvas, id).with("clip-path", format!("url(#{clip})"));
        group.push(Shape::circle(self.middle_px, self.radius_px).fill(canvas.paint(Role::Paper)));
        group
    }

    /// The rim over it.
    pub(crate) fn rim(&self, canvas: &Canvas) -> Shape {
        Shape::circle(self.middle_px, self.radius_px).stroke(canvas.paint(Role::Ink), 1.2)
    }
}

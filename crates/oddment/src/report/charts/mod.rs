//! Pictures that read in grey print: ink lines on paper, a texture for each verdict.
//!
//! Drawn narrow, so that their letters stay legible on a telephone; every picture carries a title
//! and a description for those who do not see it.

mod field;
mod stair;
mod strips;
mod sweep;
mod swings;

pub(super) use field::{field, key};
pub(super) use stair::{Step, scale, stair};
pub(super) use strips::{span, strips};
pub(super) use sweep::sweep;
pub(super) use swings::{Swing, swings};

use super::document::{Document, Mark};
use super::words;
use crate::pack::{VERDICTS, Verdict};
use svg::Node;
use svg::node::Text;
use svg::node::element::Element;

/// How wide every picture is, in its own units.
pub(super) const WIDTH: f64 = 420.0;

/// Side of the square that a texture repeats: half of what a piece takes in a field.
pub(super) const TILE: f64 = 4.2;

/// How far in from the edge fields and textures begin, so that no line is cut off.
pub(super) const INSET: f64 = 0.6;

/// A picture being drawn.
#[derive(Debug)]
pub(super) struct Canvas {
    /// Unique in the document; begins every id in the picture.
    name: String,
    root: Element,
}

impl Canvas {
    /// An empty picture, as wide as all are and as high as said.
    pub fn new(name: &str, height: f64, title: &str, description: &str) -> Self {
        let mut root = Element::new("svg");
        root.assign("class", "picture");
        root.assign(
            "viewBox",
            format!("0 0 {} {}", number(WIDTH), number(height)),
        );
        root.assign("role", "img");
        root.assign("aria-labelledby", format!("{name}-title {name}-text"));
        for (tag, id, text) in [("title", "title", title), ("desc", "text", description)] {
            let mut element = Element::new(tag);
            element.assign("id", format!("{name}-{id}"));
            element.append(Text::new(Document::clean(text)));
            root.append(element);
        }
        Self {
            name: name.to_owned(),
            root,
        }
    }

    /// Makes the verdicts' textures ready to fill with.
    pub fn textures(&mut self) {
        let mut all = Element::new("defs");
        for verdict in VERDICTS {
            let mut pattern = Element::new("pattern");
            pattern.assign("id", self.texture_id(verdict));
            pattern.assign("patternUnits", "userSpaceOnUse");
            // In step with the squares of a field, so that all of one verdict look alike.
            for (name, value) in [
                ("x", INSET),
                ("y", INSET),
                ("width", TILE),
                ("height", TILE),
            ] {
                pattern.assign(name, number(value));
            }
            if let Some(lines) = lines(verdict) {
                let mut path = Element::new("path");
                path.assign("class", "fine");
                path.assign("d", lines);
                pattern.append(path);
            }
            all.append(pattern);
        }
        self.root.append(all);
    }

    fn texture_id(&self, verdict: Verdict) -> String {
        format!("{}-{}", self.name, verdict.id())
    }

    /// An outline, filled with a verdict's texture.
    pub fn textured(&mut self, verdict: Verdict, d: String) {
        let mut path = Element::new("path");
        path.assign("class", "fine");
        path.assign("fill", format!("url(#{})", self.texture_id(verdict)));
        path.assign("d", d);
        self.root.append(path);
    }

    /// A straight line of a class of the style sheet.
    pub fn line(&mut self, class: &str, from: (f64, f64), to: (f64, f64)) {
        let mut line = Element::new("path");
        line.assign("class", class);
        line.assign(
            "d",
            format!(
                "M{} {}L{} {}",
                number(from.0),
                number(from.1),
                number(to.0),
                number(to.1)
            ),
        );
        self.root.append(line);
    }

    /// A box by its corner and size.
    pub fn rectangle(&mut self, class: &str, corner: (f64, f64), size: (f64, f64)) {
        self.root.append(rectangle(class, corner, size));
    }

    /// A box filled more or less darkly, `shade` from 0 to 1.
    pub fn shaded(&mut self, corner: (f64, f64), size: (f64, f64), shade: f64) {
        let mut shaded = rectangle("shade", corner, size);
        shaded.assign("fill-opacity", format!("{:.2}", shade.clamp(0.0, 1.0)));
        self.root.append(shaded);
    }

    /// A small circle.
    pub fn dot(&mut self, class: &str, centre: (f64, f64)) {
        let mut dot = Element::new("circle");
        dot.assign("class", class);
        dot.assign("cx", number(centre.0));
        dot.assign("cy", number(centre.1));
        dot.assign("r", 4);
        self.root.append(dot);
    }

    /// Letters, set by their base line; `anchor` is `start`, `middle` or `end`.
    pub fn text(&mut self, anchor: &str, place: (f64, f64), letters: &str) {
        let mut text = Element::new("text");
        if anchor != "start" {
            text.assign("text-anchor", anchor);
        }
        text.assign("x", number(place.0));
        text.assign("y", number(place.1));
        text.append(Text::new(Document::clean(letters)));
        self.root.append(text);
    }

    /// The SVG element.
    pub fn finish(self) -> String {
        self.root.to_string()
    }
}

fn rectangle(class: &str, corner: (f64, f64), size: (f64, f64)) -> Element {
    let mut rectangle = Element::new("rect");
    rectangle.assign("class", class);
    rectangle.assign("x", number(corner.0));
    rectangle.assign("y", number(corner.1));
    rectangle.assign("width", number(size.0.max(0.0)));
    rectangle.assign("height", number(size.1.max(0.0)));
    rectangle
}

/// The lines of a verdict's texture, on a square of 4.2 by 4.2; blank paper for the original.
fn lines(verdict: Verdict) -> Option<&'static str> {
    match verdict {
        Verdict::Original => None,
        Verdict::Married => Some("M-1 1L1 -1M0 4.2L4.2 0M3.2 5.2L5.2 3.2"),
        Verdict::Converted => Some("M0 2.1H4.2"),
        Verdict::Faked => Some("M0 1H4.2M0 3.1H4.2M1 0V4.2M3.1 0V4.2"),
    }
}

/// A coordinate to a tenth, without a useless fraction or a minus before nothing.
pub(super) fn number(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    if tenths == 0.0 || !tenths.is_finite() {
        "0".to_owned()
    } else {
        format!("{tenths}")
    }
}

/// Where a value falls between two places, held within them.
pub(super) fn between(value: f64, (low, high): (f64, f64), (from, to): (f64, f64)) -> f64 {
    let along = if high > low {
        ((value - low) / (high - low)).clamp(0.0, 1.0)
    } else {
        0.5
    };
    from + along * (to - from)
}

/// A small mark for what came of looking, told apart by shape.
pub(super) fn mark(mark: Mark) -> String {
    let mut root = Element::new("svg");
    root.assign("class", "small-mark");
    root.assign("viewBox", "0 0 16 16");
    root.assign("role", "img");
    let mut title = Element::new("title");
    title.append(Text::new(words::mark(mark)));
    root.append(title);
    let (class, d) = match mark {
        Mark::Found => ("solid", "M2 2H14V14H2Z"),
        Mark::NotThere => ("ink", "M2 2H14V14H2Z"),
        Mark::NoAccess => ("ink", "M2 2H14V14H2ZM2 2L14 14M14 2L2 14"),
        Mark::NotLooked => ("ink", "M3 8H13"),
    };
    let mut path = Element::new("path");
    path.assign("class", class);
    path.assign("d", d);
    root.append(path);
    root.to_string()
}

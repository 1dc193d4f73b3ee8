//! An HTML page read back by a parser that follows the standard.

use html5ever::tendril::TendrilSink;
use html5ever::{ParseOpts, parse_document};
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use std::collections::BTreeSet;

/// What was read.
pub(super) struct Page {
    /// Everything the standard calls a parse error.
    pub errors: Vec<String>,
    elements: Vec<Element>,
}

/// One element, in the order of the page.
struct Element {
    name: String,
    attributes: Vec<(String, String)>,
    text: String,
    /// Places of the elements around it.
    within: Vec<usize>,
}

impl Element {
    fn attribute(&self, name: &str) -> Option<&str> {
        let named = self.attributes.iter().find(|(known, _)| known == name);
        named.map(|(_, value)| value.as_str())
    }
}

impl Page {
    pub fn read(text: &str) -> Self {
        let options = ParseOpts::default();
        let tree = parse_document(RcDom::default(), options).one(text);
        let mut elements = Vec::new();
        gather(&tree.document, &mut Vec::new(), &mut elements);
        let errors = tree
            .errors
            .borrow()
            .iter()
            .map(|error| error.to_string())
            .collect();
        Self { errors, elements }
    }

    fn named<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Element> {
        self.elements
            .iter()
            .filter(move |element| element.name == name)
    }

    /// What all elements of a name say.
    pub fn texts(&self, name: &str) -> Vec<String> {
        self.named(name)
            .map(|element| element.text.trim().to_owned())
            .collect()
    }

    #[track_caller]
    pub fn ids_are_unique_and_refer(&self) {
        let mut ids = BTreeSet::new();
        for id in self
            .elements
            .iter()
            .filter_map(|element| element.attribute("id"))
        {
            assert!(ids.insert(id), "twice: {id}");
        }
        let mut referring = 0;
        for element in &self.elements {
            for id in element
                .attribute("aria-labelledby")
                .unwrap_or_default()
                .split_whitespace()
            {
                assert!(ids.contains(id), "no {id}");
                referring += 1;
            }
            let fill = element
                .attribute("fill")
                .and_then(|fill| fill.strip_prefix("url(#"));
            if let Some(id) = fill.and_then(|fill| fill.strip_suffix(')')) {
                assert!(ids.contains(id), "no {id}");
                referring += 1;
            }
        }
        assert!(referring > 20, "{referring}");
    }

    #[track_caller]
    pub fn fetches_nothing(&self) {
        for element in &self.elements {
            let refused = [
                "script", "link", "img", "iframe", "object", "embed", "base", "a",
            ];
            assert!(
                !refused.contains(&element.name.as_str()),
                "{}",
                element.name
            );
            for (name, value) in &element.attributes {
                assert!(!name.starts_with("on"), "{name}");
                assert!(
                    !matches!(name.as_str(), "src" | "href" | "style"),
                    "{name}={value}"
                );
            }
        }
        for style in self.texts("style") {
            assert!(!style.contains("url(") && !style.contains("@import"));
        }
    }

    #[track_caller]
    pub fn pictures_are_described(&self) {
        let mut pictures = 0;
        for (place, element) in self.elements.iter().enumerate() {
            if element.name != "svg" {
                continue;
            }
            assert_eq!(element.attribute("role"), Some("img"));
            let inside = |name: &str| {
                let mut described = self
                    .named(name)
                    .filter(|other| other.within.contains(&place));
                described
                    .next()
                    .is_some_and(|described| !described.text.trim().is_empty())
            };
            assert!(inside("title"));
            if element.attribute("class") == Some("picture") {
                assert!(inside("desc"));
            }
            pictures += 1;
        }
        assert!(pictures >= 3, "{pictures}");
    }

    /// The outlines of the paths of the picture whose title has an id, textures included.
    pub fn outlines(&self, title: &str) -> Vec<String> {
        let titled = self
            .elements
            .iter()
            .find(|element| element.attribute("id") == Some(title));
        let picture = titled.and_then(|title| title.within.last()).unwrap();
        let paths = self
            .named("path")
            .filter(|path| path.within.contains(picture));
        paths
            .filter_map(|path| path.attribute("d"))
            .map(str::to_owned)
            .collect()
    }

    /// Every figure that places something in a picture.
    pub fn geometry(&self) -> Vec<String> {
        let placing = [
            "d",
            "x",
            "y",
            "width",
            "height",
            "cx",
            "cy",
            "viewBox",
            "fill-opacity",
        ];
        let attributes = self.elements.iter().flat_map(|element| &element.attributes);
        let placed = attributes.filter(|(name, _)| placing.contains(&name.as_str()));
        placed.map(|(_, value)| value.clone()).collect()
    }
}

fn gather(node: &Handle, within: &mut Vec<usize>, elements: &mut Vec<Element>) {
    let mut own = false;
    match &node.data {
        NodeData::Element { name, attrs, .. } => {
            let attributes = attrs.borrow();
            let attributes = attributes.iter().map(|attribute| {
                (
                    attribute.name.local.to_string(),
                    attribute.value.to_string(),
                )
            });
            let element = Element {
                name: name.local.to_string(),
                attributes: attributes.collect(),
                text: String::new(),
                within: within.clone(),
            };
            elements.push(element);
            within.push(elements.len() - 1);
            own = true;
        }
        NodeData::Text { contents } => {
            for place in within.iter() {
                elements[*place].text.push_str(&contents.borrow());
            }
        }
        _ => {}
    }
    for child in node.children.borrow().iter() {
        gather(child, within, elements);
    }
    if own {
        within.pop();
    }
}

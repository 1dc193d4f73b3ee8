//! Packs built by formula: valid, of any size, with invented numbers that mean nothing.

use std::fmt::Write;

/// How large a generated pack is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Number of histories, at least 4.
    pub histories: usize,
    /// Number of incidents, at least 2.
    pub incidents: usize,
    /// Number of dated parts, at least 2; the odd ones share the first part's date in some
    /// histories.
    pub dated_parts: usize,
    /// Number of signs: one in five is dated, one in eight of the rest graded.
    pub signs: usize,
    /// Number of measures.
    pub measures: usize,
}

/// A splitmix64 generator: enough to scatter numbers, and the same everywhere.
#[derive(Debug, Clone)]
pub struct Scatter(pub u64);

impl Scatter {
    /// The next number in [low, high).
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// The next whole number below `bound`.
    pub fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound.max(1) as u64) as usize
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}

const VERDICTS: [&str; 4] = ["original", "married", "converted", "faked"];

/// The text of a shared library that generated packs go with.
pub fn library() -> String {
    let mut text = String::from(
        "schema = \"oddment/library/1\"\nversion = \"1\"\n\
         [defaults]\nstrength = 10\nsource = \"invented\"\n\
         [examination]\npoor = 0.05\npoor_factor = 0.2\npoor_instrument = 3\n\
         sure = 1\nfairly_sure = 0.8\ndoubtful = 0.5\n\
         [[source]]\nid = \"invented\"\nreference = \"invented for tests\"\nstanding = \"elicited\"\n\
         [[caution]]\nid = \"lifting\"\ntext = \"Two people.\"\n\
         [[check]]\nid = \"look\"\nname = \"Look\"\nhow = \"Look.\"\nminutes = 5\naccess = \"walk-by\"\n\
         leave = \"not-needed\"\ncautions = [\"lifting\"]\n",
    );
    for (curve, start) in [1700, 1760, 1820, 1860].into_iter().enumerate() {
        let _ = write!(
            text,
            "[[curve]]\nid = \"curve-{curve}\"\nname = \"Curve {curve}\"\nnote = \"invented\"\n\
             points = [[{start}, 0.02], [{}, 0.5], [{}, 0.95]]\n",
            start + 40,
            start + 90
        );
    }
    text
}

/// The text of a generated pack.
pub fn pack(size: Size, seed: u64) -> String {
    let mut scatter = Scatter(seed);
    let mut text = String::from(
        "schema = \"oddment/pack/1\"\nid = \"generated\"\nname = \"Generated\"\nversion = \"1\"\n\
         summary = \"invented for tests\"\n\
         [defaults]\nstrength = 10\nsource = \"invented\"\n\
         [dates]\nfrom = 1600\nto = 2030\nstep = 10\nshoulder = 15\n\
         [[variant]]\nid = \"dear\"\nname = \"Dear\"\nprice_ratio = 2.5\nmade_from = \"plain\"\n\
         [[variant]]\nid = \"plain\"\nname = \"Plain\"\nprice_ratio = 1\nmade_from = \"plain\"\n\
         [[period]]\nid = \"mid\"\nname = \"Mid\"\nfrom = 1740\nto = 1769\n\
         [[period]]\nid = \"late\"\nname = \"Late\"\nfrom = 1790\nto = 1819\n\
         [[region]]\nid = \"here\"\nname = \"Here\"\n\
         [[later_work]]\nid = \"later\"\nreason = \"invented\"\n\
         points = [[1780, 0.2], [1880, 1], [1930, 1], [2020, 0.2]]\n",
    );
    for part in 0..size.dated_parts {
        let _ = writeln!(
            text,
            "[[part]]\nid = \"part-{part}\"\nname = \"Part {part}\"\ndated = true"
        );
    }
    text.push_str("[[part]]\nid = \"whole\"\nname = \"Whole\"\n");
    let mut left = 1000.0;
    let mut counts = String::new();
    for history in 0..size.histories {
        let verdict = VERDICTS[history % 4];
        let _ = write!(
            text,
            "[[history]]\nid = \"history-{history}\"\nverdict = \"{verdict}\"\nkind = \"kind-{}\"\n\
             name = \"History {history}\"\nstory = \"invented\"\nelasticity = {:?}\norigin = {{",
            history % 5,
            if verdict == "original" { 0.0 } else { 0.5 }
        );
        for part in 0..size.dated_parts {
            let shares = part % 2 == 1 && (history + part) % 3 != 0;
            let origin = match (shares, (history + part) % 4) {
                (true, _) => "{ shares = \"part-0\" }".to_owned(),
                (false, 0) => "\"claim\"".to_owned(),
                (false, 1) => "{ after = \"later\" }".to_owned(),
                (false, 2) => "{ between = [1870, 1940] }".to_owned(),
                (false, _) => "{ older = 60 }".to_owned(),
            };
            let _ = write!(
                text,
                "{} part-{part} = {origin}",
                if part > 0 { "," } else { "" }
            );
        }
        text.push_str(" }\n");
        let count = if history + 1 == size.histories {
            left
        } else {
            (left * scatter.between(0.05, 0.4)).floor()
        };
        left -= count;
        let _ = write!(
            counts,
            "{}history-{history} = {count:?}",
            if history > 0 { ", " } else { "" }
        );
    }
    for variant in ["dear", "plain"] {
        let _ = writeln!(
            text,
            "[[prior]]\nvariant = \"{variant}\"\nreason = \"invented\"\ncounts = {{ {counts} }}"
        );
    }
    for incident in 0..size.incidents {
        let _ = writeln!(
            text,
            "[[incident]]\nid = \"incident-{incident}\"\nname = \"Incident {incident}\"\n\
             effect = \"invented\"\nrate = {{ any = {:.3}, original = {:.3} }}",
            scatter.between(0.05, 0.6),
            scatter.between(0.05, 0.6)
        );
    }
    let groups = (size.signs / 8).max(1);
    for group in 0..groups {
        let _ = writeln!(
            text,
            "[[group]]\nid = \"group-{group}\"\nname = \"Group {group}\"\nreason = \"invented\"\n\
             coupling = {:.2}",
            scatter.between(0.2, 0.8)
        );
    }
    for sign in 0..size.signs {
        one_sign(&mut text, &mut scatter, size, groups, sign);
    }
    for measure in 0..size.measures {
        let _ = writeln!(
            text,
            "[[measure]]\nid = \"measure-{measure}\"\npart = \"whole\"\nname = \"Measure {measure}\"\n\
             unit = \"mm\"\ncheck = \"look\"\nerror = 0.2\nplausible = [-50, 50]\n\
             points_to = \"invented\"\ninnocent = \"invented\"\n\
             density = {{ any = {{ family = \"half-normal\", scale = {:.2} }}, converted = {{ family = \
             \"log-normal\", median = {:.2}, spread = 1.8 }} }}\n\
             [[measure.override]]\nincident = \"incident-{}\"\n\
             density = {{ family = \"normal\", mean = 0.5, sd = 1.0 }}",
            scatter.between(0.2, 1.0),
            scatter.between(0.5, 3.0),
            measure % size.incidents
        );
    }
    text
}

fn one_sign(text: &mut String, scatter: &mut Scatter, size: Size, groups: usize, sign: usize) {
    let _ = write!(
        text,
        "[[sign]]\nid = \"sign-{sign}\"\nname = \"Sign {sign}\"\ncheck = \"look\"\n\
         points_to = \"invented\"\ninnocent = \"invented\"\n"
    );
    if sign % 5 == 4 {
        // Dated; hidden by an incident every other time.
        let part = sign / 5 % size.dated_parts;
        let _ = writeln!(
            text,
            "parts = [\"part-{part}\"]\nreliability = {{ found = 0.84, cleared = 0.95 }}\n\
             dated = {{ curve = \"curve-{}\", visible = {:.2}, added = {{ faked = 0.1 }} }}",
            sign / 5 % 4,
            scatter.between(0.5, 0.95)
        );
        if sign.is_multiple_of(2) {
            let incident = part % size.incidents;
            let _ = writeln!(text, "hidden_by = {{ incident-{incident} = 0.3 }}");
        }
        return;
    }
    let group = sign % groups;
    let graded = sign % 8 == 3;
    let _ = writeln!(text, "parts = [\"whole\"]");
    if !sign.is_multiple_of(3) {
        let _ = writeln!(text, "group = \"group-{group}\"");
    }
    let chance = |scatter: &mut Scatter| {
        let present = scatter.between(0.03, 0.9);
        if graded {
            let slight = present * scatter.between(0.3, 0.7);
            // Two decimals each, the first taking what is left, so that the row sums to one.
            let (slight, bold) = (
                (slight * 100.0).round(),
                ((present - slight) * 100.0).round(),
            );
            format!(
                "[{}, {}, {}]",
                (100.0 - slight.max(1.0) - bold.max(1.0)) / 100.0,
                slight.max(1.0) / 100.0,
                bold.max(1.0) / 100.0
            )
        } else {
            format!("{present:.3}")
        }
    };
    let mut shows = format!("any = {}", chance(scatter));
    for history in 0..size.histories {
        if scatter.below(3) > 0 {
            let _ = write!(shows, ", history-{history} = {}", chance(scatter));
        }
    }
    let _ = writeln!(text, "shows = {{ {shows} }}");
    let (first, second) = (group % size.incidents, (group + 1) % size.incidents);
    match sign % 4 {
        0 => {
            let _ = writeln!(
                text,
                "caused_by = {{ incident-{first} = {} }}",
                chance(scatter)
            );
        }
        1 => {
            let _ = writeln!(text, "hidden_by = {{ incident-{second} = 0.4 }}");
        }
        2 => {
            let _ = writeln!(
                text,
                "caused_by = {{ incident-{first} = {} }}\nhidden_by = {{ incident-{second} = 0.4 }}",
                chance(scatter)
            );
        }
        _ => {}
    }
    if graded {
        let _ = writeln!(
            text,
            "levels = [\"none\", \"slight\", \"bold\"]\nreliability = {{ exact = 0.75 }}"
        );
    } else {
        let _ = writeln!(text, "reliability = {{ found = 0.8, cleared = 0.92 }}");
    }
}

/// The size that speed is measured on: 14 histories, 12 incidents, 5 dated parts, 60 signs.
pub const LARGE: Size = Size {
    histories: 14,
    incidents: 12,
    dated_parts: 5,
    signs: 60,
    measures: 4,
};

/// A case on a generated pack: a report on every `every`-th sign and a reading of each measure.
pub fn case(size: Size, every: usize, seed: u64) -> String {
    let mut scatter = Scatter(seed);
    let mut text = String::from(
        "schema = \"oddment/case/1\"\n[piece]\nform = \"generated\"\nvariant = \"dear\"\n\
         period = \"mid\"\nregion = \"here\"\n",
    );
    for sign in (0..size.signs).step_by(every.max(1)) {
        let levels: &[&str] = if sign % 5 != 4 && sign % 8 == 3 {
            &["none", "slight", "bold"]
        } else {
            &["no", "yes"]
        };
        let _ = writeln!(
            text,
            "[[finding]]\nsign = \"sign-{sign}\"\nfound = \"{}\"",
            levels[scatter.below(levels.len())]
        );
    }
    for measure in 0..size.measures {
        let value = scatter.between(0.1, 4.0);
        let _ = writeln!(
            text,
            "[[reading]]\nmeasure = \"measure-{measure}\"\nvalue = {value:.2}"
        );
    }
    text
}

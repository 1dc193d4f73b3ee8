//! What can be asked on the command line.

mod values;

pub(crate) use values::{Expert, Mix, Quantile, RowLevel, Value};

use clap::{Args, Parser, Subcommand, ValueEnum};
use oddment::Verdict;
use oddment::ask::ReportFormat;
use oddment::case::file::ResaleCostFile;
use oddment::elicit::{Family, Start};
use oddment::pack::{Access, VERDICTS};
use std::ffi::OsStr;
use std::fmt;
use std::path::PathBuf;

/// Shown below the help of every command.
const EXIT_STATUS: &str = "\
Exit status:
  0  done
  1  lint found something doubtful in a pack that loads
  2  wrong usage
  3  a case, pack or library is not as it must be
  4  the findings cannot be true together
  5  a file cannot be read or written
  6  the model cannot be compiled, as a rule because it is too large
130  stopped by Ctrl-C before there was anything to show";

/// The whole command line.
#[derive(Debug, Parser)]
#[command(
    name = "oddment",
    version,
    about = "Weighs what was found on a piece of period furniture: original, married, converted or faked",
    after_help = EXIT_STATUS,
    max_term_width = 80,
    disable_help_subcommand = true
)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Assess a piece: the odds of every story, with the reasons
    #[command(after_help = EXIT_STATUS)]
    Assess {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        /// Print the assessment as JSON (see `oddment schema assessment`)
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Show how the findings built up the verdict, one by one and together
    ///
    /// From the odds before looking to the odds now, finding by finding in the order of the case;
    /// what each weighs alone, if withdrawn, and as its fair share; what several of them say only
    /// once; and how far an honest event explains each.
    #[command(after_help = EXIT_STATUS)]
    Explain {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        /// The verdict to speak for, against all others; the leading one when not given
        #[arg(long, value_name = "VERDICT", value_parser = values::verdict)]
        verdict: Option<Verdict>,
        /// Set one history against another as well, by their ids (`assess --json` tells them)
        #[arg(long, num_args = 2, value_names = ["HISTORY", "HISTORY"])]
        between: Option<Vec<String>>,
        /// Print the argument as JSON (see `oddment schema argument`)
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Show which of the numbers the verdict hangs on, and what other people's numbers would say
    ///
    /// Each number of the pack is moved through its own range, then all at once; the starting odds
    /// are swept; and with --expert the answers of several people are put together.
    #[command(after_help = EXIT_STATUS)]
    Lean {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        #[command(flatten)]
        asked: Box<Leanings>,
        /// Show every number that matters, not only the first twelve
        #[arg(long)]
        all: bool,
        /// Print the leaning as JSON (see `oddment schema leaning`)
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Draw all numbers many times over, to see how sure the answer is
    ///
    /// Ctrl-C stops after the draws under way and shows what is done; a second one ends at once.
    #[command(after_help = EXIT_STATUS)]
    Study {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        #[command(flatten)]
        drawn: Drawn,
        /// Print the study as JSON (see `oddment schema study`)
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Say which checks are still worth doing, and plan them for the time there is
    #[command(after_help = EXIT_STATUS)]
    Next {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        /// Minutes there are; a plan is made for them
        #[arg(long, value_parser = values::minutes, allow_negative_numbers = true)]
        minutes: Option<f64>,
        /// How far one may go: walk-by, open, turn-over, dismantle or laboratory; papers only for
        /// papers, which may always be read
        #[arg(long, value_parser = values::access)]
        access: Option<Access>,
        /// Only checks that need nobody's leave
        #[arg(long)]
        without_leave: bool,
        /// Print the outlook as JSON (see `oddment schema outlook`)
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Work out whether to buy, on your own figures: no valuation and no advice
    ///
    /// The case's `[stakes]` holds the figures; those given here go before them. All amounts are in
    /// one currency, whichever it is.
    #[command(after_help = EXIT_STATUS)]
    Decide {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        #[command(flatten)]
        figures: Box<Figures>,
        /// Print the decision as JSON (see `oddment schema decision`)
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Turn what people say of a number into the number as a pack states it
    ///
    /// Nobody carries a mean and a strength in the head. Say where the middle lies and how far off it
    /// could be (`--quartiles 0.25 0.30 0.35`, `--about 3 --between 1 8 --of 20`), or what was counted
    /// (`--count 3 20`); several numbers and several people go into a file (see `oddment schema
    /// judgement`).
    #[command(after_help = EXIT_STATUS)]
    Elicit {
        /// Judgements of several numbers or people, TOML or JSON; `-` for standard input
        file: Option<PathBuf>,
        #[command(flatten)]
        judged: Box<Judged>,
        /// Print the result as JSON (see `oddment schema elicitation`)
        #[arg(long)]
        json: bool,
    },
    /// List the forms that come with the command, with their variants, periods and regions
    #[command(after_help = EXIT_STATUS)]
    Forms,
    /// List the checks of a form, least trouble first, to take along to the piece
    #[command(after_help = EXIT_STATUS)]
    Signs(FormChoice),
    /// Print a case file to fill in
    #[command(after_help = EXIT_STATUS)]
    New(FormChoice),
    /// Look for what is wrong or doubtful in a pack, or (--predict) tell what its pieces would show
    ///
    /// Looks at every entry by itself, then puts simulated pieces to the engine: histories that no
    /// findings tell apart, numbers that decide by themselves. Takes a few seconds.
    #[command(after_help = EXIT_STATUS)]
    Lint {
        /// The pack, TOML or JSON; `-` for standard input
        pack: PathBuf,
        #[command(flatten)]
        asked: Box<Linting>,
        /// The shared library, instead of the one that comes with the command
        #[arg(long, value_name = "FILE")]
        library: Option<PathBuf>,
    },
    /// Write a case's whole network as plain tables, to check with any other library
    ///
    /// Every finding becomes a variable `report/N`, observed as made, whose chance of being so is
    /// the finding's likelihood. JSON goes to standard output as one object with `network`,
    /// `evidence` and `ln_scale`; with -o, to PREFIX.network.json and PREFIX.evidence.json. UAI
    /// goes to PREFIX.uai and PREFIX.uai.evid. `ln_scale` is the natural logarithm of what the
    /// probability of the evidence must be multiplied by where readings were taken.
    #[command(after_help = EXIT_STATUS)]
    Export {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        /// What to write
        #[arg(long, value_enum)]
        format: Format,
        /// Where to write: the names of the files without their endings; `uai` needs it
        #[arg(short, long, value_name = "PREFIX", required_if_eq("format", "uai"))]
        output: Option<PathBuf>,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Write the report of a case, for a client and for the file
    ///
    /// One page of HTML that needs nothing else and prints on A4 and Letter, or plain Markdown, by
    /// the ending of the file; HTML to standard output when no file is given.
    #[command(after_help = EXIT_STATUS)]
    Report {
        /// The case, TOML or JSON; `-` for standard input
        case: PathBuf,
        /// Where to write, ending in .html, .htm or .md
        #[arg(short, long, value_name = "FILE", value_parser = ReportFile::from_argument)]
        output: Option<ReportFile>,
        #[command(flatten)]
        pack: PackChoice,
    },
    /// Print the JSON Schema of a document
    #[command(after_help = EXIT_STATUS)]
    Schema {
        /// Which document
        #[arg(value_enum)]
        document: Document,
    },
}

/// What to ask of a pack.
#[derive(Debug, Args)]
pub(crate) struct Linting {
    /// Look at single entries only and simulate nothing
    #[arg(
        long,
        conflicts_with_all = ["predict", "json", "pieces", "variant", "period", "region"]
    )]
    pub quick: bool,
    /// The seed of what is simulated: equal seeds give equal answers
    #[arg(long, default_value = "1", value_parser = values::seed, allow_negative_numbers = true)]
    pub seed: u64,
    /// Threads; as many as the machine runs at once when not given. The answer is the same
    #[arg(long, value_parser = values::threads, allow_negative_numbers = true)]
    pub threads: Option<usize>,
    /// Instead of looking for doubtful things, tell how often of 100 pieces each sign would be there
    /// and be reported, what the measures would read and how often each incident happened
    #[arg(long)]
    pub predict: bool,
    /// Pieces to measure, 1 to 1,000,000; 10,000 when not given
    #[arg(long, value_parser = values::pieces, requires = "predict", allow_negative_numbers = true)]
    pub pieces: Option<u32>,
    /// Only pieces offered as this variant; all in equal parts when not given
    #[arg(long, value_name = "ID", requires = "predict")]
    pub variant: Option<String>,
    /// Only pieces claimed to be of this period; all in equal parts when not given
    #[arg(long, value_name = "ID", requires = "predict")]
    pub period: Option<String>,
    /// Only pieces claimed to come from this region; all in equal parts when not given
    #[arg(long, value_name = "ID", requires = "predict")]
    pub region: Option<String>,
    /// Print the prediction as JSON (see `oddment schema prediction`)
    #[arg(long, requires = "predict")]
    pub json: bool,
}

/// What to ask of the numbers.
#[derive(Debug, Args)]
pub(crate) struct Leanings {
    /// The verdict to look at; the leading one when not given
    #[arg(long, value_name = "VERDICT", value_parser = values::verdict)]
    pub verdict: Option<Verdict>,
    /// A probability whose side it should stay on (`0.9` or `90%`); when not given, the leading
    /// verdict should go on leading
    #[arg(
        long,
        value_name = "PROBABILITY",
        value_parser = values::threshold,
        allow_negative_numbers = true
    )]
    pub threshold: Option<f64>,
    /// How the pieces that are not original are divided in the sweep of the starting odds; a
    /// verdict left out has no part, and when not given it is as in the case
    #[arg(long, value_name = "VERDICT=PARTS,...")]
    pub mix: Option<Mix>,
    /// Move two numbers together, by their ids (`--json` and `--all` tell them)
    #[arg(long, num_args = 2, value_names = ["NUMBER", "NUMBER"])]
    pub grid: Option<Vec<String>>,
    /// Somebody else's opinion, and how much it counts (1 when not given); may be given often
    ///
    /// Either a pack of their own, or a file with their prior and numbers (see `oddment schema
    /// opinion`). The case as it stands counts as the first opinion, with weight 1.
    #[arg(long, value_name = "FILE[=WEIGHT]")]
    pub expert: Vec<Expert>,
}

/// What is judged of one number.
#[derive(Debug, Args)]
pub(crate) struct Judged {
    /// Below which it lies in a quarter of cases, in half, and in three quarters
    #[arg(
        long,
        num_args = 3,
        value_names = ["LOWER", "MEDIAN", "UPPER"],
        allow_negative_numbers = true
    )]
    pub quartiles: Option<Vec<Value>>,
    /// Two to five values, each with the chance of lying below: `5%=0.1,50%=0.2,95%=0.4`
    #[arg(long, value_name = "LEVEL=VALUE,...", value_delimiter = ',')]
    pub quantiles: Option<Vec<Quantile>>,
    /// The best single figure, taken for the median; with --between
    #[arg(long, value_name = "VALUE", allow_negative_numbers = true)]
    pub about: Option<Value>,
    /// The least and the most it could well be
    #[arg(long, num_args = 2, value_names = ["LEAST", "MOST"], allow_negative_numbers = true)]
    pub between: Option<Vec<Value>>,
    /// The share of cases that --between holds; 90% when not given
    #[arg(long, value_name = "SHARE", allow_negative_numbers = true)]
    pub credible: Option<Value>,
    /// How many pieces showed it, and how many were looked at
    #[arg(long, num_args = 2, value_names = ["FOUND", "LOOKED-AT"], allow_negative_numbers = true)]
    pub count: Option<Vec<f64>>,
    /// How many pieces were of each level of a graded sign
    #[arg(
        long,
        value_name = "COUNT,...",
        value_delimiter = ',',
        allow_negative_numbers = true
    )]
    pub counts: Option<Vec<f64>>,
    /// Quartiles of the chance of one level of a graded sign; once for each level, "not there" first
    #[arg(long, value_name = "NAME=LOWER,MEDIAN,UPPER")]
    pub level: Vec<RowLevel>,
    /// Values are out of this many: 100 for percentages
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    pub of: Option<f64>,
    /// What counts are added to: half a piece of each sort (`jeffreys`, when not given) or one
    #[arg(long, value_parser = values::start)]
    pub start: Option<Start>,
    /// The unit of a measure, such as mm; a chance is judged when not given
    #[arg(long)]
    pub unit: Option<String>,
    /// The measure cannot be 0 or below
    #[arg(long)]
    pub positive: bool,
    /// The family of the measure's density; the best fitting when not given: normal, log-normal,
    /// gamma, student-t10 or student-t3
    #[arg(long, value_parser = values::family)]
    pub family: Option<Family>,
    /// It is a factor, an elasticity or another positive number of a pack
    #[arg(long)]
    pub factor: bool,
    /// The number's id in its pack
    #[arg(long, value_name = "NUMBER")]
    pub number: Option<String>,
}

/// What to draw.
#[derive(Debug, Args)]
pub(crate) struct Drawn {
    /// How many draws, 2 to 10,000,000
    #[arg(
        long,
        default_value = "100000",
        value_parser = values::draws,
        allow_negative_numbers = true
    )]
    pub draws: u64,
    /// The seed: equal seeds give equal answers
    #[arg(long, default_value = "1", value_parser = values::seed, allow_negative_numbers = true)]
    pub seed: u64,
    /// Pairs of draws to tell from which numbers the spread comes; no more than half the draws are
    /// used, and 0 leaves it out
    #[arg(long, default_value = "4000", value_parser = values::pairs, allow_negative_numbers = true)]
    pub pairs: u64,
    /// Threads; as many as the machine runs at once when not given. The answer is the same
    #[arg(long, value_parser = values::threads, allow_negative_numbers = true)]
    pub threads: Option<usize>,
    /// Write the four probabilities of every draw to a file, one line each
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
}

/// Figures of a decision.
#[derive(Debug, Args)]
pub(crate) struct Figures {
    /// The price asked
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true)]
    pub asking: Option<f64>,
    /// What it would sell for under each verdict: amounts, or (`faked=5%`) shares of what it would
    /// sell for if original
    #[arg(
        long,
        value_name = "VERDICT=AMOUNT,...",
        value_delimiter = ',',
        value_parser = worth
    )]
    pub worth: Vec<(Verdict, Sum)>,
    /// What selling it costs: an amount, a share of the price (`20%`), or both (`20%+50`)
    #[arg(
        long,
        value_name = "COST",
        value_parser = resale_cost,
        allow_negative_numbers = true
    )]
    pub resale_cost: Option<ResaleCostFile>,
    /// What a minute of the examiner costs
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true)]
    pub minute_cost: Option<f64>,
    /// Constant relative risk aversion, 0 (none) to 10; needs the wealth
    #[arg(long, value_name = "AVERSION", allow_negative_numbers = true)]
    pub risk_aversion: Option<f64>,
    /// What the buyer owns before buying
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true)]
    pub wealth: Option<f64>,
    /// The chance of loss to state a price for, 0 up to 1; 0.1 when not given
    #[arg(long, value_name = "CHANCE", allow_negative_numbers = true)]
    pub chance_of_loss: Option<f64>,
}

/// An amount of money, or a share of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sum {
    Amount(f64),
    Share(f64),
}

/// Reads `900` or `15%`.
fn sum(text: &str) -> Result<Sum, String> {
    let (number, percent) = match text.strip_suffix('%') {
        Some(number) => (number, true),
        None => (text, false),
    };
    match number.trim().parse::<f64>() {
        Ok(number) if percent => Ok(Sum::Share(number / 100.0)),
        Ok(number) => Ok(Sum::Amount(number)),
        Err(_) => Err(format!(
            "`{text}` must be an amount such as 900, or a share such as 15%"
        )),
    }
}

/// Reads `married=900` or `married=30%`.
fn worth(text: &str) -> Result<(Verdict, Sum), String> {
    let ids = VERDICTS.map(Verdict::id).join(", ");
    let Some((id, value)) = text.split_once('=') else {
        return Err(format!("give a verdict ({ids}), `=` and an amount"));
    };
    let verdict = VERDICTS.into_iter().find(|verdict| verdict.id() == id);
    let verdict = verdict.ok_or_else(|| format!("unknown verdict `{id}`; valid: {ids}"))?;
    Ok((verdict, sum(value)?))
}

/// Reads `50`, `20%` or `20%+50`.
fn resale_cost(text: &str) -> Result<ResaleCostFile, String> {
    let mut cost = ResaleCostFile::default();
    for part in text.split('+') {
        match sum(part.trim())? {
            Sum::Amount(amount) => cost.amount += amount,
            Sum::Share(share) => cost.share += share,
        }
    }
    Ok(cost)
}

/// Which pack and library to use.
#[derive(Debug, Args)]
pub(crate) struct PackChoice {
    /// A pack of your own, or your extension of one that comes with the command
    #[arg(long, value_name = "FILE")]
    pub pack: Option<PathBuf>,
    /// The shared library, instead of the one that comes with the command
    #[arg(long, value_name = "FILE")]
    pub library: Option<PathBuf>,
}

/// A form, or a pack of one's own.
#[derive(Debug, Args)]
pub(crate) struct FormChoice {
    /// A form's id (see `oddment forms`)
    #[arg(required_unless_present = "pack", conflicts_with = "pack")]
    pub form: Option<String>,
    #[command(flatten)]
    pub pack: PackChoice,
}

/// Where a report goes, and in which form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct ReportFile {
    pub path: PathBuf,
    pub format: ReportFormat,
}

/// A report was to go where its name does not say what it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct UnknownEnding;

impl fmt::Display for UnknownEnding {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("the name must end in .html, .htm or .md")
    }
}

impl std::error::Error for UnknownEnding {}

impl ReportFile {
    /// Tells the form by the ending, in capitals or not.
    fn from_argument(argument: &str) -> Result<Self, UnknownEnding> {
        let path = PathBuf::from(argument);
        let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
        let format = match ending.to_ascii_lowercase().as_str() {
            "html" | "htm" => ReportFormat::Html,
            "md" => ReportFormat::Markdown,
            _ => return Err(UnknownEnding),
        };
        Ok(Self { path, format })
    }
}

/// Formats of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// Variables and tables by name
    Json,
    /// The plain text format of the UAI inference competitions
    Uai,
}

/// Documents that have a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Document {
    /// A form's pack
    Pack,
    /// Your own additions to a pack that comes with the command
    Extension,
    /// The library that packs share
    Library,
    /// A case
    Case,
    /// Somebody else's prior and numbers for a case
    Opinion,
    /// What people judge of numbers of a pack
    Judgement,
    /// An assessment
    Assessment,
    /// A decision
    Decision,
    /// What every finding weighed
    Argument,
    /// How far the answer hangs on which numbers
    Leaning,
    /// How sure the answer is, over many draws of the numbers
    Study,
    /// What is still worth looking at
    Outlook,
    /// What a pack's pieces would show
    Prediction,
    /// What judgements come to
    Elicitation,
    /// Everything a pack says of its form
    Form,
    /// A piece to practise on
    Practice,
}

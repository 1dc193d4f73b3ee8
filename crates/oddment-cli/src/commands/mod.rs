//! What each command does.

mod decide;
mod elicit;
mod explain;
mod export;
mod forms;
mod lean;
mod lint;
mod next;
mod predict;
mod report;
mod signs;
mod study;

use crate::arguments::{Command, Document};
use crate::failure::Failure;
use crate::input::{Source, load_pack};
use crate::output::Output;
use crate::{page, report as assessed};
use oddment::{NextOptions, Schema, look_next};

/// Runs a command.
pub(crate) fn run(command: &Command) -> Result<Output, Failure> {
    match command {
        Command::Assess { case, json, pack } => {
            let (pack, case) = pack.load_case(case)?;
            let assessment =
                oddment::assess(&pack, &case).map_err(|error| Failure::engine(&error, &[]))?;
            if *json {
                Ok(Output::data(pretty(&assessment)))
            } else {
                Ok(Output::page(assessed::render(&assessment, &pack)))
            }
        }
        Command::Explain {
            case,
            verdict,
            between,
            json,
            pack,
        } => {
            let (pack, case) = pack.load_case(case)?;
            let argument = explain::work_out(&pack, &case, between.as_deref())?;
            if *json {
                Ok(Output::data(pretty(&argument)))
            } else {
                Ok(Output::page(explain::render(&argument, &pack, *verdict)))
            }
        }
        Command::Lean {
            case,
            asked,
            all,
            json,
            pack: choice,
        } => {
            let source = Source::read_or_input(case)?;
            let (pack, case) = choice.load_case_from(&source)?;
            let leaning = lean::work_out(&pack, &case, &source, asked, choice)?;
            if *json {
                Ok(Output::data(pretty(&leaning)))
            } else {
                Ok(Output::page(lean::render(&leaning, *all)))
            }
        }
        Command::Study {
            case: path,
            drawn,
            json,
            pack,
        } => {
            let (pack, case) = pack.load_case(path)?;
            let study = study::work_out(&pack, &case, path, drawn)?;
            if *json {
                Ok(Output::data(pretty(&study.report)))
            } else {
                Ok(Output::page(study::render(&study.report)))
            }
        }
        Command::Next {
            case,
            minutes,
            access,
            without_leave,
            json,
            pack,
        } => {
            let (pack, case) = pack.load_case(case)?;
            let options = NextOptions {
                minutes: *minutes,
                access: *access,
                without_leave: *without_leave,
            };
            let outlook =
                look_next(&pack, &case, &options).map_err(|error| Failure::engine(&error, &[]))?;
            if *json {
                Ok(Output::data(pretty(&outlook)))
            } else {
                Ok(Output::page(next::render(&outlook, &pack)))
            }
        }
        Command::Decide {
            case,
            figures,
            json,
            pack,
        } => {
            let (pack, case) = pack.load_case(case)?;
            let decision = decide::work_out(&pack, &case, figures)?;
            if *json {
                Ok(Output::data(pretty(&decision)))
            } else {
                Ok(Output::page(decide::render(&decision, &pack, &case)))
            }
        }
        Command::Elicit { file, judged, json } => {
            let elicited = elicit::work_out(file.as_deref(), judged)?;
            if *json {
                Ok(Output::data(pretty(&elicited)))
            } else {
                Ok(Output::page(elicit::render(&elicited, file.is_some())))
            }
        }
        Command::Forms => forms::run(),
        Command::Signs(form) => Ok(Output::page(signs::render(&form.load()?))),
        Command::New(form) => {
            let text = oddment::new_case(&form.load()?);
            let lines: Vec<String> = text.lines().map(page::clean).collect();
            Ok(Output::data(lines.join("\n") + "\n"))
        }
        Command::Lint {
            pack,
            asked,
            library,
        } => {
            let source = Source::read_or_input(pack)?;
            let pack = load_pack(&source, library.as_deref())?;
            if !asked.predict {
                return lint::run(&source.name, &pack, asked);
            }
            let prediction = predict::work_out(&pack, asked)?;
            if asked.json {
                Ok(Output::data(pretty(&prediction)))
            } else {
                Ok(Output::page(predict::render(&prediction, &pack)))
            }
        }
        Command::Export {
            case,
            format,
            output,
            pack,
        } => {
            let (pack, case) = pack.load_case(case)?;
            export::run(&pack, &case, *format, output.as_deref())
        }
        Command::Report { case, output, pack } => {
            let (path, (pack, case)) = (case, pack.load_case(case)?);
            report::run(&pack, &case, path, output.as_ref())
        }
        Command::Schema { document } => {
            let of = match document {
                Document::Pack => Schema::Pack,
                Document::Extension => Schema::Extension,
                Document::Library => Schema::Library,
                Document::Case => Schema::Case,
                Document::Opinion => Schema::Opinion,
                Document::Judgement => Schema::Judgement,
                Document::Assessment => Schema::Assessment,
                Document::Decision => Schema::Decision,
                Document::Argument => Schema::Argument,
                Document::Leaning => Schema::Leaning,
                Document::Study => Schema::Study,
                Document::Outlook => Schema::Outlook,
                Document::Prediction => Schema::Prediction,
                Document::Elicitation => Schema::Elicitation,
                Document::Form => Schema::Form,
                Document::Practice => Schema::Practice,
            };
            Ok(Output::data(pretty(&oddment::schema(of))))
        }
    }
}

/// JSON to be read by people as well.
fn pretty(value: &impl serde::Serialize) -> String {
    // Plain data with text keys and finite numbers always serialises.
    serde_json::to_string_pretty(value).unwrap_or_default() + "\n"
}

#[cfg(test)]
mod tests {
    use super::{elicit, explain, lean, next, predict, study};
    use crate::page::Page;
    use oddment::pack::VERDICTS;
    use oddment::study::StudyOptions;
    use oddment::{Case, LeanOptions, NextOptions, Text, look_next, packs};

    /// What puts a result on a page.
    type Fill<'a> = &'a dyn Fn(&mut Page);

    /// The longest line of a page, styles left out.
    fn widest(width: usize, fill: Fill<'_>) -> String {
        let mut page = Page::of_width(width);
        fill(&mut page);
        let text = page.finish();
        let lines = text.lines().map(|line| {
            let mut parts = line.split('\u{1b}');
            let first = parts.next().unwrap_or_default().to_owned();
            parts.fold(first, |plain, part| {
                plain + part.split_once('m').map_or(part, |(_, rest)| rest)
            })
        });
        // What is there to be pasted into a pack stays whole.
        let wrapped = lines.filter(|line| !line.trim_start().starts_with(['{', '[']));
        wrapped.max_by_key(|line| line.chars().count()).unwrap()
    }

    #[test]
    fn pages_fit_the_terminal() {
        let pack = packs::load("drop-leaf-table").unwrap();
        let text = include_str!("../../../../priors/cases/innocent-holes.toml");
        let case = Case::load(Text::new("case", text), &pack).unwrap();
        let ids: Vec<&str> = pack.histories.iter().map(|h| h.id.as_str()).collect();
        let argument = oddment::explain(&pack, &case, Some((ids[0], ids[5]))).unwrap();
        let numbers = ["examination/poor", "examination/fairly-sure"].map(str::to_owned);
        let subject = oddment::pool::Subject {
            pack: &pack,
            case: &case,
            text: Text::new("case", text),
            library: packs::library(),
        };
        let options = LeanOptions {
            grid: Some(numbers.into()),
            opinions: vec![subject.as_it_stands(1.0)],
            ..LeanOptions::default()
        };
        let leaning = oddment::lean(&pack, &case, &options).unwrap();
        let options = StudyOptions {
            draws: 100,
            pairs: 50,
            ..StudyOptions::default()
        };
        let study = oddment::study::study(&pack, &case, &options, &|_, _| true).unwrap();
        let options = NextOptions {
            minutes: Some(10.0),
            ..NextOptions::default()
        };
        let outlook = look_next(&pack, &case, &options).unwrap();
        let text = include_str!("../../tests/data/judgements.toml");
        let elicited = oddment::elicit::elicit_text(Text::new("judgements", text)).unwrap();
        let options = oddment::predict::PredictOptions {
            pieces: 100,
            ..Default::default()
        };
        let prediction = oddment::predict::predict(&pack, &options).unwrap();
        for width in [40, 50, 77, 80] {
            let fills: [(&str, Fill<'_>); 6] = [
                ("elicit", &|page| elicit::fill(page, &elicited, false)),
                ("explain", &|page| {
                    explain::fill(page, &argument, &pack, Some(VERDICTS[1]));
                }),
                ("lean", &|page| lean::fill(page, &leaning, true)),
                ("study", &|page| study::fill(page, &study.report)),
                ("next", &|page| next::fill(page, &outlook, &pack)),
                ("predict", &|page| predict::fill(page, &prediction, &pack)),
            ];
            for (name, fill) in fills {
                let line = widest(width, fill);
                // Ids stay whole, as in all pages.
                let whole = line.trim_start().split(' ').count() == 1;
                assert!(
                    whole || line.chars().count() <= width,
                    "{name} at {width}: {line}"
                );
            }
        }
    }
}

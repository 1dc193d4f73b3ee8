//! A study done a little at a time, by somebody who has other things to attend to and no second
//! thread.

use super::{Plan, Study, StudyOptions};
use crate::case::Case;
use crate::error::Error;
use crate::inquiry::Inquiry;
use crate::model::Model;
use crate::pack::Pack;
use crate::workings::Workings;
use std::cell::Cell;
use std::fmt;
use std::future::{Future, poll_fn};
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

/// A study under way.
///
/// The same to the bit as [`study`](super::study()) with the same options, which may be stopped
/// between any two turns. Each turn draws one block, some hundred evaluations; the first gets
/// everything ready.
///
/// ```
/// use oddment::study::{StudyInTurns, StudyOptions};
/// use oddment::{Case, Text, packs};
/// use std::rc::Rc;
/// let pack = Rc::new(packs::load("drop-leaf-table")?);
/// let text = include_str!("../../../../priors/cases/hardly-looked-at.toml");
/// let case = Case::load(Text::new("hardly-looked-at.toml", text), &pack)?;
/// let options = StudyOptions { draws: 500, pairs: 0, ..StudyOptions::default() };
/// let mut under_way = StudyInTurns::new(pack, case, options);
/// let study = loop {
///     if let Some(study) = under_way.turn() {
///         break study?;
///     }
///     // Here is the place to tell `under_way.progress()`, or to call `under_way.stop()`.
/// };
/// assert_eq!(study.report.draws, 500);
/// # Ok::<(), oddment::Error>(())
/// ```
pub struct StudyInTurns {
    /// Nothing once it has come to its end.
    work: Option<Work>,
    told: Rc<Told>,
}

/// The whole study as something that can be gone on with.
type Work = Pin<Box<dyn Future<Output = Result<Study, Error>>>>;

/// What passes between the work and whoever gives it its turns.
#[derive(Debug, Default)]
struct Told {
    done: Cell<u64>,
    all: Cell<u64>,
    stopped: Cell<bool>,
}

impl fmt::Debug for StudyInTurns {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut shown = formatter.debug_struct("StudyInTurns");
        shown.field("told", &self.told).finish_non_exhaustive()
    }
}

impl StudyInTurns {
    /// Nothing is done before the first turn. The number of threads asked for does not matter.
    #[must_use]
    pub fn new(pack: Rc<Pack>, case: Case, options: StudyOptions) -> Self {
        let told = Rc::new(Told::default());
        let work: Work = Box::pin(work(pack, case, options, Rc::clone(&told)));
        Self {
            work: Some(work),
            told,
        }
    }

    /// Evaluations done, and of how many; neither is known before the first turn.
    #[must_use]
    pub fn progress(&self) -> (u64, u64) {
        (self.told.done.get(), self.told.all.get())
    }

    /// The next turn, in which work starts, ends with what is done by then.
    pub fn stop(&self) {
        self.told.stopped.set(true);
    }

    /// Does one turn's work; the study once it is done, and nothing after that.
    ///
    /// # Errors
    /// [`Error::Impossible`] when the findings contradict one another; [`Error::Circuit`].
    pub fn turn(&mut self) -> Option<Result<Study, Error>> {
        let work = self.work.as_mut()?;
        // Nobody else is to be woken: the next turn comes when somebody takes it.
        match work.as_mut().poll(&mut Context::from_waker(Waker::noop())) {
            Poll::Pending => None,
            Poll::Ready(study) => {
                self.work = None;
                Some(study)
            }
        }
    }
}

/// The whole study, giving way before every block. What the blocks borrow from one another is kept
/// between turns by being the state of this function.
async fn work(
    pack: Rc<Pack>,
    case: Case,
    options: StudyOptions,
    told: Rc<Told>,
) -> Result<Study, Error> {
    let model = Model::compile_reported(&pack, &case)?;
    let inquiry = Inquiry::open(&pack, &case, &model)?;
    let workings = Workings::new(&pack, &case, &model)?;
    let plan = Plan::new(&workings, &inquiry, &options);
    told.all.set(plan.all());
    let mut desk = workings.desk();
    let mut blocks = Vec::new();
    for block in 0..plan.blocks() {
        give_way().await;
        if told.stopped.get() {
            break;
        }
        blocks.push(plan.block(block, &mut desk));
        told.done.set(told.done.get() + plan.evaluations(block));
    }
    give_way().await;
    Ok(plan.report(blocks, &inquiry))
}

/// Ends a turn.
async fn give_way() {
    let mut gone = false;
    poll_fn(move |_| {
        if std::mem::replace(&mut gone, true) {
            Poll::Ready(())
        } else {
            Poll::Pending
        }
    })
    .await;
}

#[cfg(test)]
mod tests {
    use super::super::study;
    use super::*;
    use crate::{Text, packs};

    fn setting() -> (Rc<Pack>, Case, StudyOptions) {
        let pack = packs::load("drop-leaf-table").unwrap();
        let text = include_str!("../../../../priors/cases/hardly-looked-at.toml");
        let case = Case::load(Text::new("case", text), &pack).unwrap();
        let options = StudyOptions {
            draws: 600,
            pairs: 40,
            ..StudyOptions::default()
        };
        (Rc::new(pack), case, options)
    }

    #[test]
    fn a_study_in_turns_is_the_same_study() {
        let (pack, case, options) = setting();
        let whole = study(&pack, &case, &options, &|_, _| true).unwrap();
        let mut under_way = StudyInTurns::new(pack, case, options);
        let mut turns = 0;
        let parts = loop {
            turns += 1;
            if let Some(parts) = under_way.turn() {
                break parts.unwrap();
            }
        };
        assert_eq!(parts, whole);
        // To get ready, three blocks, and to sum up.
        assert_eq!(turns, 5);
        let (done, all) = under_way.progress();
        assert_eq!(done, all);
        assert!(under_way.turn().is_none());
    }

    #[test]
    fn a_stopped_study_tells_what_it_has() {
        let (pack, case, options) = setting();
        let mut under_way = StudyInTurns::new(pack, case, options);
        assert!(under_way.turn().is_none() && under_way.turn().is_none());
        under_way.stop();
        assert!(under_way.turn().is_none());
        let study = under_way.turn().unwrap().unwrap();
        assert_eq!((study.report.asked, study.report.draws), (600, 250));
    }
}

//! What a rule is shown: a piece with its history, the part of it before a step, and the step itself.

use super::hit::Planned;
use super::strength::Curves;
use crate::body::setup::{FinishKind, Mix, Piece, Product};
use crate::body::{Body, Kind, Region, casting};
use crate::id::ObjectId;
use crate::moment::Moment;
use crate::shop::{Shop, Step, Versions};

/// Reads one kind of body.
pub(crate) type View<T> = fn(&Body) -> Option<&T>;

/// A piece before the rules.
pub struct Case<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The piece.
    pub piece: ObjectId,
    /// Its entries in force, in order of work.
    pub history: Vec<&'a Step>,
    /// Strength curves of the shop's mixes, fitted when first asked for.
    pub(crate) curves: Curves,
}

impl<'a> Case<'a> {
    /// The case of one piece.
    pub fn new(shop: &'a Shop, piece: ObjectId) -> Self {
        Self::sharing(shop, piece, Curves::default())
    }

    /// The case of one piece among many: curves fitted for one are there for the next.
    pub(crate) fn sharing(shop: &'a Shop, piece: ObjectId, curves: Curves) -> Self {
        Self { shop, piece, history: shop.history(piece), curves }
    }

    /// The same case as it stood at a moment.
    pub(crate) fn before(mut self, at: Moment) -> Self {
        self.history.retain(|step| step.done.start <= at);
        self
    }

    /// The facts of the piece, if it is recorded.
    pub fn facts(&self) -> Option<&'a Piece> {
        self.shop.pieces.get(&self.piece).map(Versions::now)
    }

    /// Entries of one kind, in order of work.
    pub fn of(&self, kind: Kind) -> impl DoubleEndedIterator<Item = &'a Step> + '_ {
        self.history.iter().copied().filter(move |step| step.kind == Some(kind))
    }

    /// The whole history.
    pub(crate) fn whole(&self) -> Past<'_, 'a> {
        Past { case: self, steps: &self.history }
    }

    /// The pour the piece was cast in, the newest if there were several.
    pub(crate) fn pour(&self) -> Option<(&'a Step, &'a casting::Pour)> {
        self.whole().last(super::view::pour)
    }

    /// The mix of the piece: as poured, else as planned.
    pub(crate) fn mix(&self) -> Option<&'a Mix> {
        let planned = || self.facts().and_then(|piece| piece.mix);
        let mix = self.pour().map(|(_, pour)| pour.mix).or_else(planned)?;
        self.shop.mixes.get(&mix).map(Versions::now)
    }

    /// The finish aimed at.
    pub(crate) fn finish(&self) -> Option<FinishKind> {
        self.facts().and_then(|piece| piece.finish)
    }

    /// The product as its sheet stood at a moment.
    pub(crate) fn product(&self, id: ObjectId, at: Moment) -> Option<&'a Product> {
        self.shop.products.get(&id).map(|versions| versions.at(at))
    }

    /// Thickness, in mm: of the piece, else as poured.
    pub(crate) fn thickness_mm(&self) -> Option<f64> {
        let poured = || self.pour().and_then(|(_, pour)| pour.thickness_mm);
        self.facts().and_then(|piece| piece.thickness_mm).or_else(poured)
    }
}

/// What came before a step.
#[derive(Clone, Copy)]
pub struct Past<'c, 'a> {
    /// The case.
    pub case: &'c Case<'a>,
    /// The entries before the step, in order of work.
    pub steps: &'c [&'a Step],
}

impl<'c, 'a> Past<'c, 'a> {
    /// Entries of one kind, in order of work.
    pub(crate) fn all<T: 'a>(
        &self,
        view: View<T>,
    ) -> impl DoubleEndedIterator<Item = (&'a Step, &'a T)> + use<'c, 'a, T> {
        self.steps.iter().copied().filter_map(move |step| Some((step, view(step.body()?)?)))
    }

    /// The newest entry of one kind.
    pub(crate) fn last<T: 'a>(&self, view: View<T>) -> Option<(&'a Step, &'a T)> {
        self.all(view).next_back()
    }

    /// What came after one of these steps.
    pub(crate) fn after(&self, step: &Step) -> Self {
        let found = self.steps.iter().position(|it| std::ptr::eq(*it, step));
        Self { case: self.case, steps: found.map_or(&[], |at| &self.steps[at + 1..]) }
    }

    /// What came before one of these steps.
    pub(crate) fn before(&self, step: &Step) -> Self {
        let found = self.steps.iter().position(|it| std::ptr::eq(*it, step));
        Self { case: self.case, steps: found.map_or(&[], |at| &self.steps[..at]) }
    }

    /// Whether any entry is of one of these kinds.
    pub(crate) fn has(&self, kinds: &[Kind]) -> bool {
        self.steps.iter().any(|step| step.kind.is_some_and(|kind| kinds.contains(&kind)))
    }
}

/// The step a rule judges: one that was done, or one that somebody means to do.
#[derive(Clone, Copy)]
pub struct Subject<'s> {
    /// Its kind.
    pub kind: Kind,
    /// Its region, where one is named.
    pub region: Option<Region>,
    /// Its values; of a planned step, as far as they are known.
    pub body: Option<&'s Body>,
    /// The product, where that is all that is known of a planned step.
    pub product: Option<ObjectId>,
    /// When it was begun, or is meant to begin.
    pub at: Moment,
    /// The entry; none for a planned step.
    pub step: Option<&'s Step>,
}

impl<'s> Subject<'s> {
    /// A step that was done; `None` where its body cannot be read.
    pub(crate) fn done(step: &'s Step) -> Option<Self> {
        let (kind, body) = (step.kind?, step.body()?);
        Some(Self {
            kind,
            region: region_of(step),
            body: Some(body),
            product: None,
            at: step.done.start,
            step: Some(step),
        })
    }

    /// A step somebody means to do at a moment.
    pub(crate) fn planned(planned: &Planned<'s>, at: Moment) -> Self {
        let Planned { kind, region, body, product } = *planned;
        Self { kind, region, body, product, at, step: None }
    }

    /// Its own fields, read as one kind.
    pub(crate) fn read<T>(&self, view: View<T>) -> Option<&'s T> {
        view(self.body?)
    }
}

/// The region an entry names.
pub(crate) fn region_of(step: &Step) -> Option<Region> {
    step.common().and_then(|common| common.region)
}

/// Whether an entry is about a region: it names it, or it names none and so means the whole piece.
pub(crate) fn covers(step: &Step, region: Option<Region>) -> bool {
    match (region_of(step), region) {
        (Some(named), Some(region)) => named == region,
        _ => true,
    }
}

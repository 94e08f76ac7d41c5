//! What both papers share: the grid, the title block, and the way from strips to a file.

use crate::font::Face;
use crate::layout::{Composer, FigureBox, Frame, Region, Slab, paginate, qr_code, shows};
use crate::model::{Attachment, Fact, Figure, Imprint, Options, PieceCard};
use crate::pdf::{Claim, FileFacts, Seal, write};
use crate::scene::Scene;
use crate::text::has_mark;
use crate::theme::{DISPLAY, LABEL, LEAD, MM};
use crate::{PaperError, furniture, words};
use trowelogue_core::text::Lang;

/// Begins a paper.
pub(crate) fn begin(options: &Options) -> Composer {
    Composer::new(Frame::of(options.paper))
}

/// The title block: what paper, which piece, for whom; its outline and its code beside it.
pub(crate) fn title(c: &mut Composer, paper: &str, piece: &PieceCard, lang: Lang) {
    let width = c.region.width;
    let (code_side, outline) = (22.0 * MM, 46.0 * MM);
    let taken = code_side + if piece.outline.is_some() { outline + 12.0 } else { 0.0 };
    let text = Region { x: 0.0, width: width - taken - 14.0 };
    let words = c.column(text, |c| {
        c.text(paper, LABEL, 0.0);
        c.heading(1, &piece.code, DISPLAY, 0.0);
        if let Some(name) = &piece.name {
            c.text(name, LEAD, 0.0);
        }
    });
    let mut columns = vec![words];
    if let Some(figure) = &piece.outline {
        let region = Region { x: width - taken, width: outline };
        let room = FigureBox { width: outline, height: 34.0 * MM };
        columns.push(c.column(region, |c| c.figure(figure, room, 0.0)));
    }
    if let Some(drawing) = qr_code(&piece.id, code_side / MM) {
        let alt = format!("{} {}", words::QR_ALT.get(lang), piece.id);
        let region = Region { x: width - code_side, width: code_side };
        let room = FigureBox { width: code_side, height: code_side };
        columns
            .push(c.column(region, |c| c.figure(&Figure { drawing, alt, ..Figure::default() }, room, 0.0)));
    }
    c.push_beside(columns, 0.0);
    let mut facts =
        vec![Fact::new(words::JOB.get(lang), &piece.job), Fact::new(words::CLIENT.get(lang), &piece.client)];
    facts.extend(piece.site.iter().map(|site| Fact::new(words::SITE.get(lang), site)));
    facts.extend(piece.facts.iter().cloned());
    c.ledger(&facts, 2, 30.0 * MM, 10.0);
}

/// What a file carries and claims beside its pages.
pub(crate) struct Inside<'a> {
    /// Files carried inside.
    pub(crate) attachments: &'a [Attachment],
    /// What it claims to conform to.
    pub(crate) claim: Claim,
    /// How it is sealed.
    pub(crate) seal: Option<Seal<'a>>,
}

/// Puts the strips on pages and writes the file.
pub(crate) fn finish(
    mut c: Composer,
    imprint: &Imprint,
    options: &Options,
    (title, subject): (String, String),
    inside: Inside<'_>,
) -> Result<Vec<u8>, PaperError> {
    let facts = FileFacts {
        issued: imprint.issued,
        paper_id: &imprint.paper_id,
        tool: &imprint.tool,
        catalogue: &imprint.catalogue,
        attachments: inside.attachments,
        claim: inside.claim,
        seal: inside.seal,
    };
    let slabs = c.finish()?;
    write(&scene(c, slabs, imprint, options, title, subject), &facts)
}

/// The display list of a paper.
pub(crate) fn scene(
    c: Composer,
    slabs: Vec<Slab>,
    imprint: &Imprint,
    options: &Options,
    title: String,
    subject: String,
) -> Scene {
    let lang = options.lang;
    let words = furniture::Words {
        head: title.clone(),
        shop: imprint.shop.clone(),
        foot: format!("{} · {} · {}", imprint.issued_text, imprint.tool, imprint.paper_id),
        page: words::page,
        lang,
        note: shows_marks(&slabs, imprint).then(|| words::REPLACED.get(lang).to_owned()),
    };
    let furnish = |page, total| furniture::draw(&c.frame, &c.shaper, &words, page, total);
    let (pages, outline) = paginate(slabs, &c.frame, &furnish);
    Scene {
        lang,
        title,
        author: imprint.shop.clone(),
        subject,
        pages,
        tree: c.tree,
        outline,
        images: c.images,
    }
}

/// Whether anything on the pages stands for a character the family lacks.
fn shows_marks(slabs: &[Slab], imprint: &Imprint) -> bool {
    let shop = crate::text::showable(&imprint.shop, Face::Regular);
    has_mark(&shop) || shows(slabs, has_mark)
}

//! What an entry of a kind must name beside its body, and who may write it.

use trowelogue_core::body::{Kind, Needs};
use trowelogue_core::shop::Status;
use trowelogue_core::text::{Text, text};

use super::entry::{Head, Reader};
use crate::format::Table;
use crate::say::fill;
use crate::{ApiError, ErrorCode, Result};

const PIECES: Text = text("Name at least one piece.", "Indique al menos una pieza.");
const PIECES_OR_POUR: Text =
    text("Name at least one piece, or the pour.", "Indique al menos una pieza o el vertido.");
const PIECES_OR_JOB: Text =
    text("Name the job, or at least one piece.", "Indique el trabajo o al menos una pieza.");
const NO_OBJECT: Text = text(
    "An entry of the kind {kind} is not about such a thing.",
    "Una entrada del tipo {kind} no trata de eso.",
);
const NO_PIECES: Text =
    text("An entry of the kind {kind} names no pieces.", "Una entrada del tipo {kind} no nombra piezas.");
const TAKEN: Text =
    text("This id belongs to something of another sort.", "Este id pertenece a algo de otro tipo.");
const PEER: Text = text("Name the device it is about.", "Indique el dispositivo del que trata.");
const NO_PEER: Text = text(
    "An entry of the kind {kind} is not about a device.",
    "Una entrada del tipo {kind} no trata de un dispositivo.",
);
const HEAD: Text = text(
    "Name the last entry of the device that counts.",
    "Indique la última entrada del dispositivo que cuenta.",
);
const FOREIGN_HEAD: Text =
    text("This entry is not of that device.", "Esta entrada no es de ese dispositivo.");
const REFS: Text =
    text("Name the entry it is about, by its hash.", "Indique por su hash la entrada de la que trata.");
const UNTOUCHABLE: Text = text(
    "Entries about devices cannot be struck or corrected; write the opposite one.",
    "Las entradas sobre dispositivos no se anulan ni se corrigen; escriba la contraria.",
);
const STRUCK: Text =
    text("This entry is struck or replaced already.", "Esta entrada ya está anulada o reemplazada.");
const OWNER: Text = text("Only an owner writes {kind}.", "Solo un dueño escribe {kind}.");
const ASK: Text = text("Do it on an owner's device.", "Hágalo en el dispositivo de un dueño.");
const ONE_THING: Text = text(
    "The entries named are not versions of one entry.",
    "Las entradas nombradas no son versiones de una sola.",
);

impl Reader {
    /// Holds the head of an entry to what its kind needs.
    pub(super) fn check_head(&self, head: &Head) -> Result<()> {
        self.check_author(head.kind)?;
        self.check_object(head)?;
        let no_pieces = head.pieces.is_empty();
        match head.kind.needs() {
            Needs::Pieces | Needs::Region | Needs::NewPour if no_pieces => Err(self.bad("pieces", PIECES)),
            Needs::PourOrPieces if no_pieces && head.object.is_none() => {
                Err(self.bad("pieces", PIECES_OR_POUR))
            }
            Needs::JobOrPieces if no_pieces && head.object.is_none() => {
                Err(self.bad("pieces", PIECES_OR_JOB))
            }
            Needs::Object if !no_pieces => Err(self.misplaced("pieces", NO_PIECES, head.kind)),
            Needs::Peer | Needs::PeerAndHead => self.check_peer(head),
            _ if head.peer.is_some() => Err(self.misplaced("peer", NO_PEER, head.kind)),
            Needs::Refs => self.check_refs(head),
            _ => Ok(()),
        }
    }

    fn misplaced(&self, field: &str, words: Text, kind: Kind) -> ApiError {
        ApiError::bad_input(field, fill(words, self.lang, &[("kind", &kind.wire())]))
    }

    fn check_author(&self, kind: Kind) -> Result<()> {
        if self.owner || !needs_owner(kind) {
            return Ok(());
        }
        let words = fill(OWNER, self.lang, &[("kind", &kind.wire())]);
        Err(ApiError::new(ErrorCode::NotOwner, words).field("kind").remedy(ASK.get(self.lang)))
    }

    fn check_object(&self, head: &Head) -> Result<()> {
        let Some(id) = head.object else { return Ok(()) };
        let table = self.book.table_of(id);
        let fits = match (head.kind.needs(), Table::made_by(head.kind)) {
            (_, Some(made)) => table.is_none_or(|table| table == made),
            (Needs::PourOrPieces, _) => table == Some(Table::Pours),
            (Needs::JobOrPieces, _) => table == Some(Table::Jobs),
            (Needs::Nothing, _) => true,
            _ => return Err(self.misplaced("object", NO_OBJECT, head.kind)),
        };
        if fits { Ok(()) } else { Err(self.bad("object", TAKEN)) }
    }

    fn check_peer(&self, head: &Head) -> Result<()> {
        let Some(peer) = head.peer else { return Err(self.bad("peer", PEER)) };
        if head.kind.needs() == Needs::Peer {
            return Ok(());
        }
        if head.refs.is_empty() {
            return Err(self.bad("refs", HEAD));
        }
        let own = head.refs.iter().all(|hash| self.step(hash).is_some_and(|step| step.device == peer));
        if own { Ok(()) } else { Err(self.bad("refs", FOREIGN_HEAD)) }
    }

    fn check_refs(&self, head: &Head) -> Result<()> {
        let targets: Vec<_> = head.refs.iter().filter_map(|hash| self.step(hash)).collect();
        if targets.is_empty() {
            return Err(self.bad("refs", REFS));
        }
        if !matches!(head.kind, Kind::Correction | Kind::Strike) {
            return Ok(());
        }
        if targets.iter().any(|step| step.kind.is_some_and(untouchable)) {
            return Err(self.bad("refs", UNTOUCHABLE));
        }
        if targets.iter().any(|step| matches!(step.status, Status::Struck | Status::Replaced)) {
            return Err(self.bad("refs", STRUCK));
        }
        let mut roots = targets.iter().map(|step| step.corrects.unwrap_or(step.hash));
        let first = roots.next();
        let same = head.kind == Kind::Strike || roots.all(|root| Some(root) == first);
        if same { Ok(()) } else { Err(self.bad("refs", ONE_THING)) }
    }
}

/// Kinds only an owner's entry of which counts.
pub(crate) fn needs_owner(kind: Kind) -> bool {
    use Kind::{Accept, Erase, Passphrase, Recover, Retire, Role, Settings, SettleFork};
    matches!(kind, Accept | Retire | Recover | Role | SettleFork | Settings | Passphrase | Erase)
}

/// Kinds nobody may strike or correct: they decide over devices, and are undone by their like.
pub(crate) fn untouchable(kind: Kind) -> bool {
    needs_owner(kind) && kind != Kind::Settings
}

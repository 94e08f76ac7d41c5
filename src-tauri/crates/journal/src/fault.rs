//! What a reader may find in a folder: breaks (something is wrong) and notes (something to know).

use trowelogue_core::id::DeviceId;
use trowelogue_core::text::{Text, text};

macro_rules! kinds {
    ($(#[$meta:meta])* $name:ident { $($variant:ident $code:literal $en:literal $es:literal,)* }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $(#[doc = $en] $variant,)*
        }
        impl $name {
            /// Every kind, in the order of its declaration.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The stable name used in JSON and in the format description.
            pub const fn code(self) -> &'static str {
                match self { $(Self::$variant => $code,)* }
            }

            /// What it means, in words.
            pub const fn text(self) -> Text {
                match self { $(Self::$variant => text($en, $es),)* }
            }
        }
    };
}

kinds! {
    /// Something that is wrong with a file: `verify` lists it and ends with exit code 1.
    BreakKind {
        BadHash "bad_hash"
            "the body is not the one that was signed"
            "el contenido no es el que se firmó",
        BadLine "bad_line"
            "the line is not in the form of a log line"
            "la línea no tiene la forma de una línea de registro",
        BadSignature "bad_signature"
            "the signature does not match the line"
            "la firma no corresponde a la línea",
        BodyMissing "body_missing"
            "the body was taken out of the line"
            "falta el contenido de la línea",
        ChainBroken "chain_broken"
            "the line does not follow the line before it"
            "la línea no sigue a la línea anterior",
        DeviceKeyMismatch "device_key_mismatch"
            "the device does not belong to the key of this log"
            "el dispositivo no corresponde a la clave de este registro",
        DuplicateLine "duplicate_line"
            "the line stands twice in the file"
            "la línea aparece dos veces en el archivo",
        FileTooShortOfKnown "file_too_short_of_known"
            "the file holds less than this device has already seen of it"
            "el archivo contiene menos de lo que este dispositivo ya había visto",
        ForeignShop "foreign_shop"
            "the log belongs to another shop"
            "el registro pertenece a otro taller",
        Fork "fork"
            "two different lines carry the same number: the device was copied or set back"
            "dos líneas distintas llevan el mismo número: el dispositivo fue copiado o restaurado",
        HeaderInvalid "header_invalid"
            "the header of the file is damaged or was changed"
            "el encabezado del archivo está dañado o fue cambiado",
        NotUtf8 "not_utf8"
            "the line is not UTF-8 text"
            "la línea no es texto UTF-8",
        OutOfOrder "out_of_order"
            "the line stands in the wrong place"
            "la línea está en un lugar equivocado",
        PhotoMissing "photo_missing"
            "a photo named in an entry is not in the folder"
            "falta en la carpeta una foto nombrada en una entrada",
        PhotoWrong "photo_wrong"
            "the bytes of a photo do not match its name"
            "los datos de una foto no corresponden a su nombre",
        SealMismatch "seal_mismatch"
            "the seal at the end does not match what stands before it"
            "el sello final no corresponde a lo que está antes",
        SegmentMissing "segment_missing"
            "a file of this log is missing"
            "falta un archivo de este registro",
        SequenceGap "sequence_gap"
            "lines are missing before this one"
            "faltan líneas antes de esta",
        ShopFileBad "shop_file_bad"
            "shop.json is damaged or is not the one this shop was founded with"
            "shop.json está dañado o no es el de la fundación del taller",
        TooLong "too_long"
            "the line is longer than a line may be"
            "la línea es más larga de lo permitido",
        TornTail "torn_tail"
            "the last line is cut off"
            "la última línea está cortada",
    }
}

kinds! {
    /// Something to know about a folder that breaks nothing.
    NoteKind {
        BehindNeighbours "behind_neighbours"
            "another device has seen more of this log than is here"
            "otro dispositivo vio más de este registro de lo que hay aquí",
        BodyLocked "body_locked"
            "the body is encrypted and cannot be read here"
            "el contenido está cifrado y no se puede leer aquí",
        CopyAddsLines "copy_adds_lines"
            "a copy under another name holds lines its own file lacks; they were read"
            "una copia con otro nombre contiene líneas que faltan en su archivo; se leyeron",
        CopyAddsNothing "copy_adds_nothing"
            "a copy under another name adds nothing"
            "una copia con otro nombre no añade nada",
        ErasedStillShown "erased_still_shown"
            "erased, but this file still holds it; its device takes it out when it next opens the folder"
            "borrado, pero este archivo aún lo contiene; su dispositivo lo retira cuando abra la carpeta",
        FolderRebuilt "folder_rebuilt"
            "the folder was missing or empty and was written again from this device"
            "la carpeta faltaba o estaba vacía y se escribió de nuevo desde este dispositivo",
        Gap "gap"
            "entries of this device have not arrived"
            "no han llegado algunas entradas de este dispositivo",
        NewerVersion "newer_version"
            "written by a newer version; carried along"
            "escrito por una versión más nueva; se conserva",
        NoHeader "no_header"
            "no header of this device is here, so its lines cannot be checked and were set aside"
            "no hay encabezado de este dispositivo: sus líneas no se pueden comprobar y quedan aparte",
        NotInFolder "not_in_folder"
            "entries of this device are not yet in the folder; they are safe here"
            "hay entradas de este dispositivo que aún no están en la carpeta; aquí están a salvo",
        NotHereYet "not_here_yet"
            "the file is a placeholder or empty: its content has not arrived"
            "el archivo es un marcador o está vacío: su contenido no ha llegado",
        PendingTail "pending_tail"
            "the last line has not arrived in full"
            "la última línea no ha llegado completa",
        StillPlain "still_plain"
            "still readable without the passphrase; its device encrypts it when it next opens the folder"
            "aún legible sin la contraseña; su dispositivo lo cifra cuando abra la carpeta",
        StrayFile "stray_file"
            "not a log; left alone"
            "no es un registro; se deja como está",
        TooManyFaults "too_many_faults"
            "the file has more faults than are listed, or more bytes than a log may have"
            "el archivo tiene más fallos de los que se listan, o más datos de los permitidos",
        Unreadable "unreadable"
            "the file cannot be read: access is refused or the disk fails"
            "no se puede leer el archivo: acceso denegado o fallo del disco",
        WentBackwards "went_backwards"
            "the file in the folder is older than what this device has already seen; nothing was lost here"
            "el archivo de la carpeta es más antiguo que lo ya visto por este dispositivo; aquí no se perdió nada",
    }
}

/// One thing that is wrong, with its place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Break {
    /// The file, relative to the folder, with `/` between the parts.
    pub file: String,
    /// The line, counted from 1; `None` where the whole file is meant.
    pub line: Option<u64>,
    /// What is wrong.
    pub kind: BreakKind,
}

/// One thing to know, with its place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Note {
    /// What it is.
    pub kind: NoteKind,
    /// The file, relative to the folder, where one file is meant.
    pub file: Option<String>,
    /// The line, counted from 1, where one line is meant.
    pub line: Option<u64>,
    /// The device whose log is meant.
    pub device: Option<DeviceId>,
    /// First and last sequence number meant, where numbers are.
    pub range: Option<(u64, u64)>,
}

impl Note {
    /// A note about a file as a whole.
    pub fn of_file(kind: NoteKind, file: &str) -> Self {
        Self { kind, file: Some(file.into()), line: None, device: None, range: None }
    }

    /// A note about one line of a file.
    pub fn of_line(kind: NoteKind, file: &str, line: u64) -> Self {
        Self { line: Some(line), ..Self::of_file(kind, file) }
    }

    /// A note about sequence numbers `from` to `to` of a device's log.
    pub fn of_range(kind: NoteKind, device: DeviceId, from: u64, to: u64) -> Self {
        Self { kind, file: None, line: None, device: Some(device), range: Some((from, to)) }
    }
}

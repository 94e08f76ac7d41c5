//! The words of the care sheet. What holds for a sealer or a place is declared once, beside it.
//!
//! Basis of the advice: common practice, no source; the supplier's own care instructions take precedence, and
//! the sheet says so.

use trowelogue_core::text::{Text, text};

use crate::model::{Place, SealerKind};

pub(crate) const CARE: Text = text("Care sheet", "Hoja de cuidados");
pub(crate) const NOT_HANDED_OVER: Text = text("Not yet handed over", "Aún no entregada");
pub(crate) const NOT_HANDED_OVER_WHY: Text = text(
    "This sheet is a draft: the piece is not finished or not yet handed over. Dates may still change.",
    "Esta hoja es un borrador: la pieza no está terminada o aún no se ha entregado. Las fechas pueden cambiar.",
);
pub(crate) const HANDED_OVER: Text = text("handed over", "entrega");
pub(crate) const PIECES: Text =
    text("pieces, sealed and cared for alike", "piezas, selladas y cuidadas igual");
pub(crate) const ID: Text = text("id of the piece", "id de la pieza");
pub(crate) const CUT_SHORT: Text = text(
    "Words that end in … are cut short here; they stand in full in the shop's log.",
    "Lo que termina en … está abreviado aquí; figura completo en el registro del taller.",
);
pub(crate) const SEALING: Text = text("How it is sealed", "Cómo está sellada");
pub(crate) const DATES: Text = text("Dates that count", "Fechas que cuentan");
pub(crate) const FIRST_WATER: Text = text("first water", "primera agua");
pub(crate) const LIGHT_USE: Text = text("light use from", "uso ligero desde");
pub(crate) const FULL_USE: Text = text("full use", "uso pleno");
pub(crate) const FIRST_TEST: Text = text("first water-drop test", "primera prueba de la gota");
pub(crate) const RENEWAL: Text = text("first renewal by", "primera renovación");
pub(crate) const WARRANTY_END: Text = text("warranty until", "garantía hasta");
pub(crate) const NO_DATE: Text = text("not recorded; ask the shop", "no registrado; pregunte al taller");
pub(crate) const FIRST_DAYS_RULE: Text = text(
    "Until full use nothing wet, hot, heavy or sharp stands on it, nothing is dragged, and no tape, mat or film \
     covers it.",
    "Hasta el uso pleno no se coloca encima nada mojado, caliente, pesado ni afilado, no se arrastra nada, y no \
     se cubre con cinta, esteras ni plástico.",
);
pub(crate) const DAILY: Text = text("Every day", "Cada día");
pub(crate) const WIPE: Text = text("Wipe at once", "Limpiar enseguida");
pub(crate) const NEVER: Text = text("Never", "Nunca");
pub(crate) const RENEW: Text = text("When to renew the protection", "Cuándo renovar la protección");
pub(crate) const PATINA: Text = text("What patina is", "Qué es la pátina");
pub(crate) const PROBLEM: Text = text("If something goes wrong", "Si algo va mal");
pub(crate) const TOUCH_UP: Text = text("touch-up", "retoque");
pub(crate) const CONTACT: Text = text("contact", "contacto");
pub(crate) const LEFT_WITH: Text = text("left with you", "se le dejó");
pub(crate) const WARRANTY: Text = text("Warranty in brief", "La garantía en breve");
pub(crate) const NO_WARRANTY: Text = text(
    "No warranty terms are recorded for this job; ask the shop.",
    "No hay términos de garantía registrados para esta obra; pregunte al taller.",
);
pub(crate) const FOOD: Text = text("Contact with food", "Contacto con alimentos");
pub(crate) const FOOD_DECLARED: Text =
    text("As declared by the supplier:", "Según lo declarado por el proveedor:");
pub(crate) const FOOD_UNKNOWN: Text = text(
    "Contact with food only as declared by the supplier of the sealer. No declaration is recorded: use a board \
     and plates.",
    "Contacto con alimentos solo según lo declarado por el proveedor del sellador. No hay declaración \
     registrada: use tabla y platos.",
);
pub(crate) const SUPPLIER_FIRST: Text = text(
    "Common practice for this kind of sealer. Where the supplier's care instructions say otherwise, they take \
     precedence.",
    "Práctica común para este tipo de sellador. Si las instrucciones de cuidado del proveedor dicen otra cosa, \
     prevalecen.",
);

/// What to do every day.
pub(crate) const DAILY_CARE: [Text; 3] = [
    text(
        "Soft cloth, water, a few drops of pH-neutral soap.",
        "Paño suave, agua y unas gotas de jabón de pH neutro.",
    ),
    text(
        "Dry it afterwards; leave no puddles or wet cloths.",
        "Séquela después; no deje charcos ni paños mojados.",
    ),
    text("Boards for cutting, felt under what is moved.", "Tabla para cortar, fieltro bajo lo que se mueve."),
];

/// What stains or etches if it stays.
pub(crate) const WIPE_AT_ONCE: [Text; 4] = [
    text("Lemon, vinegar, tomato, wine, cola", "Limón, vinagre, tomate, vino, cola"),
    text("Coffee, tea, curry, mustard, beetroot", "Café, té, curri, mostaza, remolacha"),
    text("Oil, butter, wax, make-up", "Aceite, mantequilla, cera, maquillaje"),
    text("Hair dye, ink, rust from tins", "Tinte de pelo, tinta, óxido de latas"),
];

/// What damages sealer or concrete.
pub(crate) const NEVER_USE: [Text; 4] = [
    text("Scouring powder, steel wool, rough pads", "Polvo abrasivo, lana de acero, estropajos ásperos"),
    text(
        "Chlorine bleach; ammonia cleaners. Never mix them",
        "Lejía de cloro; limpiadores con amoníaco. Nunca los mezcle",
    ),
    text("Descalers, limescale or tile acids", "Descalcificadores, ácidos antical o de azulejos"),
    text("Solvents, drain cleaner, oven cleaner", "Disolventes, desatascador, limpiahornos"),
];

/// How to tell whether the protection is due.
pub(crate) const DROP_TEST: Text = text(
    "Put a few drops of water where it is used most, and wait ten minutes.",
    "Ponga unas gotas de agua donde más se usa y espere diez minutos.",
);
/// What the drops show.
pub(crate) const DROP_SHOWS: [(Text, Text); 2] = [
    (
        text("The concrete stays light", "El hormigón sigue claro"),
        text(
            "The sealer still works. Wipe the drops off; test again in half a year.",
            "El sellador aún protege. Séquelas; repita la prueba en medio año.",
        ),
    ),
    (
        text("It darkens under the drops", "Se oscurece bajo las gotas"),
        text(
            "Renewal is due. Let it dry, use it carefully, and call the shop.",
            "Toca renovar. Deje secar, úselo con cuidado y llame al taller.",
        ),
    ),
];

/// What is no fault.
pub(crate) const PATINA_IS: Text = text(
    "Concrete lives. Fine hairlines, small pores, clouds of tone and a softer sheen where hands pass come with \
     use. They are part of the material and no defect.",
    "El hormigón vive. Finas fisuras capilares, poros pequeños, nubes de tono y un brillo más suave donde pasan \
     las manos llegan con el uso. Son parte del material y no un defecto.",
);
pub(crate) const NO_PATINA: Text = text("What is not", "Qué no lo es");
/// What is one.
pub(crate) const PATINA_IS_NOT: Text = text(
    "Rings, whitening, peeling, soft or rough spots, a dark patch that does not dry: report them soon, with \
     photos.",
    "Cercos, blanqueo, desprendimientos, zonas blandas o ásperas, una mancha oscura que no seca: avise pronto, \
     con fotos.",
);

/// How to report a problem.
pub(crate) const REPORT: [Text; 4] = [
    text(
        "Stop using the spot; do not scrub, sand or seal over it.",
        "Deje de usar la zona; no frote, lije ni selle encima.",
    ),
    text(
        "Photograph it twice: close up with a coin beside it, and from where you stand.",
        "Fotografíela dos veces: de cerca con una moneda al lado, y desde donde usted está.",
    ),
    text(
        "Write down what touched it, when, and how it was cleaned.",
        "Anote qué la tocó, cuándo y cómo se limpió.",
    ),
    text(
        "Send it with the code of the piece from the top of this sheet.",
        "Envíelo con el código de la pieza que figura arriba en esta hoja.",
    ),
];

/// What a sealer of this kind needs to be known about.
pub(crate) const fn sealer(kind: SealerKind) -> Text {
    match kind {
        SealerKind::Reactive => text(
            "The sealer sits in the pores and leaves no film: it slows stains down, it does not stop them, and acid still etches the surface.",
            "El sellador está en los poros y no forma película: retarda las manchas, no las impide, y el ácido aún ataca la superficie.",
        ),
        SealerKind::Densifier => text(
            "The surface is hardened, not sealed with a film: liquids can still enter, so wipe up soon.",
            "La superficie está endurecida, sin película selladora: los líquidos aún pueden entrar, limpie pronto.",
        ),
        SealerKind::Repellent => text(
            "The pores repel water but not standing oil or acid: wipe up soon.",
            "Los poros repelen el agua, pero no el aceite ni el ácido estancados: limpie pronto.",
        ),
        SealerKind::Acrylic => text(
            "A thin acrylic film protects it: heat and solvents soften it, and it is renewed more often than others.",
            "La protege una película acrílica fina: el calor y los disolventes la ablandan, y se renueva más a menudo que otras.",
        ),
        SealerKind::Polyurethane => text(
            "A polyurethane film protects it: it resists most stains, but not blades, dragging or heat.",
            "La protege una película de poliuretano: resiste casi todas las manchas, pero no cuchillos, arrastres ni calor.",
        ),
        SealerKind::Epoxy => text(
            "An epoxy film protects it: heat marks it and sunlight yellows it.",
            "La protege una película epoxi: el calor la marca y el sol la amarillea.",
        ),
        SealerKind::Polyaspartic => text(
            "A polyaspartic film protects it: hard and clear, but blades scratch it and heat marks it.",
            "La protege una película poliaspártica: dura y clara, pero los cuchillos la rayan y el calor la marca.",
        ),
        SealerKind::UvCured => text(
            "A film hardened by light protects it: hard, but a scratch through it must be mended by the shop.",
            "La protege una película curada con luz: dura, pero un rayón que la atraviesa lo repara el taller.",
        ),
        SealerKind::Wax => text(
            "Wax protects it: it softens with warmth and is renewed by rubbing in a little more.",
            "La protege la cera: se ablanda con el calor y se renueva frotando un poco más.",
        ),
        SealerKind::Unknown => text(
            "The sealer is not recorded: treat the surface as unsealed and ask the shop.",
            "El sellador no está registrado: trate la superficie como sin sellar y pregunte al taller.",
        ),
    }
}

/// What its place asks for.
pub(crate) const fn place(place: Place) -> Text {
    match place {
        Place::Kitchen => text(
            "Trivets under everything from stove or oven; nothing hot straight on the concrete.",
            "Salvamanteles bajo todo lo que venga del fuego u horno; nada caliente directamente sobre el hormigón.",
        ),
        Place::Bath => text(
            "Rinse and wipe after use: soap and hard water leave a film. Trays under dyes, cosmetics and tins.",
            "Enjuague y seque tras el uso: el jabón y el agua dura dejan una película. Bandejas bajo tintes, cosméticos y latas.",
        ),
        Place::Wall => text(
            "Dust it dry. Keep the distance to fire and heaters that local codes ask for.",
            "Quite el polvo en seco. Guarde la distancia al fuego y calefactores que exigen las normas locales.",
        ),
        Place::Floor => text(
            "It can be slippery when wet, soapy or oily: wipe it dry, put mats at doors, felt under chairs.",
            "Puede resbalar mojado, con jabón o aceite: séquelo, ponga felpudos en las puertas y fieltro bajo las sillas.",
        ),
        Place::Outdoor => text(
            "Let water run off, keep leaves and de-icing salt away, sweep before frost.",
            "Deje correr el agua, evite hojas y sal de deshielo, barra antes de las heladas.",
        ),
    }
}

/// `Heat limit: 60 °C (data sheet)`.
pub(crate) const HEAT_LIMIT: Text = text("Heat limit:", "Límite de calor:");

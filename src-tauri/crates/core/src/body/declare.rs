//! The three declaration forms of bodies: structs with optional fields, closed choices with their words, and
//! the table of kinds.

/// Structs of a body: `Option` fields may be missing, all others must be there.
macro_rules! bodies {
    ($( $(#[$meta:meta])* pub struct $name:ident { $($fields:tt)* } )*) => { $(
        $(#[$meta])*
        #[serde_with::skip_serializing_none]
        #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        pub struct $name { $($fields)* }
    )* };
}

/// A closed choice with the words a person reads.
macro_rules! choices {
    ($( $(#[$meta:meta])* pub enum $name:ident { $( $(#[$vmeta:meta])* $variant:ident = $wire:literal : $en:literal, $es:literal; )+ } )*) => { $(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash,
                 serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        pub enum $name { $( $(#[$vmeta])* #[doc = $en] #[serde(rename = $wire)] $variant, )+ }

        impl $name {
            /// Every value, in the order a person is offered them.
            pub const ALL: &[Self] = &[ $( Self::$variant, )+ ];

            /// The value as it is written in a body.
            pub const fn wire(self) -> &'static str {
                match self { $( Self::$variant => $wire, )+ }
            }

            /// The words for it.
            pub const fn label(self) -> $crate::text::Text {
                match self { $( Self::$variant => $crate::text::text($en, $es), )+ }
            }
        }

        impl $crate::body::labels::Choice for $name {
            fn offered() -> Vec<(&'static str, $crate::text::Text)> {
                Self::ALL.iter().map(|it| (it.wire(), it.label())).collect()
            }
        }
    )* };
}

/// The table of kinds: enum, bodies, reading and writing, words.
macro_rules! kinds {
    ($( $kind:ident $wire:literal $family:ident :: $body:ident $needs:ident $group:ident $en:literal, $es:literal; )+) => {
        /// The kind of an entry.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Kind { $( #[doc = $en] $kind, )+ }

        impl Kind {
            /// Every kind, in the order of the trade.
            pub const ALL: &[Self] = &[ $( Self::$kind, )+ ];

            /// The name that stands in an entry.
            pub const fn wire(self) -> &'static str {
                match self { $( Self::$kind => $wire, )+ }
            }

            /// The kind with this name; `None` for one a newer version may have written.
            pub fn parse(wire: &str) -> Option<Self> {
                match wire { $( $wire => Some(Self::$kind), )+ _ => None }
            }

            /// What it is called.
            pub const fn label(self) -> Text {
                match self { $( Self::$kind => text($en, $es), )+ }
            }

            /// What an entry of the kind must name.
            pub const fn needs(self) -> Needs {
                match self { $( Self::$kind => Needs::$needs, )+ }
            }

            /// Where it belongs.
            pub const fn group(self) -> Group {
                match self { $( Self::$kind => Group::$group, )+ }
            }

            /// The JSON Schema of the kind's own fields.
            pub fn schema(self) -> schemars::Schema {
                match self { $( Self::$kind => schemars::schema_for!($family::$body), )+ }
            }
        }

        /// The own fields of one kind.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Body { $( #[doc = $en] $kind(Box<$family::$body>), )+ }

        impl Body {
            /// The kind it belongs to.
            pub const fn kind(&self) -> Kind {
                match self { $( Self::$kind(_) => Kind::$kind, )+ }
            }

            /// Reads the own fields of a kind.
            ///
            /// # Errors
            /// A must field is missing, or a value is not of its type.
            pub fn from_value(kind: Kind, value: Value) -> Result<Self, serde_json::Error> {
                Ok(match kind { $( Kind::$kind => Self::$kind(serde_json::from_value(value)?), )+ })
            }

            /// Reads what a person entered: the field a value fails at, and the fields that do not exist, are told.
            pub(crate) fn from_entered(kind: Kind, value: &Value) -> (Result<Self, input::FieldError>, Vec<String>) {
                match kind { $( Kind::$kind => {
                    let (read, unknown) = input::read_strict::<$family::$body>(value);
                    (read.map(|body| Self::$kind(Box::new(body))), unknown)
                } )+ }
            }

            /// The own fields as JSON.
            pub fn to_map(&self) -> Map<String, Value> {
                let value = match self { $( Self::$kind(body) => serde_json::to_value(body), )+ };
                match value {
                    Ok(Value::Object(map)) => map,
                    _ => Map::new(),
                }
            }
        }
    };
}

//! Closed choices a sum takes, with the name each has on the command line.

/// Declares an enum whose values have a written name: serialised by it, read with `parse`.
macro_rules! named {
    ($( #[$meta:meta] )* pub enum $name:ident, $field:literal { $( $(#[$doc:meta])* $value:ident = $wire:literal, )+ }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
        pub enum $name { $( $(#[$doc])* #[serde(rename = $wire)] $value, )+ }

        impl $name {
            /// Every value.
            pub const ALL: &'static [Self] = &[ $( Self::$value, )+ ];

            /// The name it is written with.
            pub const fn wire(self) -> &'static str {
                match self { $( Self::$value => $wire, )+ }
            }

            /// The value with this name.
            ///
            /// # Errors
            /// `Unknown` with the names there are.
            pub fn parse(text: &str) -> Result<Self, $crate::sums::SumError> {
                $crate::sums::check::pick($field, text, Self::ALL, Self::wire)
            }
        }
    };
}

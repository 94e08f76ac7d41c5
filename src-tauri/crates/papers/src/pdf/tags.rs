//! The tag tree of the file (ISO 32000-1, 14.7 and 14.8): what everything means, in reading order.

use lopdf::{Dictionary, Document, Object, ObjectId, dictionary};

use super::content::Drawn;
use super::{assembly, text_string};
use crate::PaperError;
use crate::scene::{Node, NodeId, Role, Scene, Scope, Tree};

/// Adds the tree, and ties pages and tree together.
pub(crate) fn add(
    doc: &mut Document,
    scene: &Scene,
    drawn: &Drawn,
    pages: &[ObjectId],
) -> Result<(), PaperError> {
    let root = doc.new_object_id();
    let ids: Vec<ObjectId> = scene.tree.nodes().iter().map(|_| doc.new_object_id()).collect();
    let writer = Writer { scene, drawn, pages, ids: &ids, root };
    for (node, id) in ids.iter().enumerate() {
        let element = writer.element(node);
        doc.set_object(*id, element);
    }
    let parents = writer.parent_tree(doc);
    let tree = dictionary! {
        "Type" => "StructTreeRoot",
        "K" => Object::Reference(ids[Tree::ROOT]),
        "ParentTree" => Object::Reference(parents),
        "ParentTreeNextKey" => pages.len() as i64,
    };
    doc.set_object(root, tree);
    for (number, page) in pages.iter().enumerate() {
        let page = doc.get_dictionary_mut(*page).map_err(assembly)?;
        page.set("StructParents", number as i64);
        page.set("Tabs", Object::Name(b"S".to_vec()));
    }
    let catalog = doc.catalog_mut().map_err(assembly)?;
    catalog.set("StructTreeRoot", Object::Reference(root));
    catalog.set("MarkInfo", dictionary! { "Marked" => true });
    Ok(())
}

struct Writer<'a> {
    scene: &'a Scene,
    drawn: &'a Drawn,
    pages: &'a [ObjectId],
    ids: &'a [ObjectId],
    root: ObjectId,
}

impl Writer<'_> {
    fn element(&self, number: NodeId) -> Dictionary {
        let node = &self.scene.tree.nodes()[number];
        let stretches = &self.drawn.stretches[number];
        let parent = node.parent.map_or(self.root, |parent| self.ids[parent]);
        let mut element = dictionary! { "S" => tag(node.role), "P" => Object::Reference(parent) };
        let home = stretches.first().map(|(page, _)| *page);
        if let Some(page) = home {
            element.set("Pg", Object::Reference(self.pages[page]));
        }
        let kids = node.kids.iter().map(|kid| Object::Reference(self.ids[*kid]));
        let drawn = stretches.iter().map(|(page, mcid)| self.stretch(*page, *mcid, home));
        let mut kids: Vec<Object> = drawn.chain(kids).collect();
        match kids.len() {
            0 => {}
            1 => element.set("K", kids.remove(0)),
            _ => element.set("K", kids),
        }
        if let Some(alt) = &node.alt {
            element.set("Alt", text_string(alt));
        }
        if let Some(attributes) = self.attributes(number, node) {
            element.set("A", attributes);
        }
        element
    }

    /// A marked stretch: its number alone on the element's own page, else with the page.
    fn stretch(&self, page: usize, mcid: usize, home: Option<usize>) -> Object {
        if Some(page) == home {
            return Object::Integer(mcid as i64);
        }
        dictionary! {
            "Type" => "MCR",
            "Pg" => Object::Reference(self.pages[page]),
            "MCID" => mcid as i64,
        }
        .into()
    }

    fn attributes(&self, number: NodeId, node: &Node) -> Option<Dictionary> {
        match node.role {
            Role::Header(scope) => {
                let scope = if scope == Scope::Column { "Column" } else { "Row" };
                Some(dictionary! { "O" => "Table", "Scope" => scope })
            }
            Role::Figure => {
                let (page, [left, top, right, bottom]) = *self.drawn.boxes.get(&number)?;
                let height = self.scene.pages[page].size.1;
                let corner = |v: f64| Object::Real(v.round() as f32);
                let area = vec![corner(left), corner(height - bottom), corner(right), corner(height - top)];
                Some(dictionary! { "O" => "Layout", "Placement" => "Block", "BBox" => area })
            }
            _ => None,
        }
    }

    /// For each page the element of each of its marked stretches.
    fn parent_tree(&self, doc: &mut Document) -> ObjectId {
        let mut numbers = Vec::new();
        for (page, nodes) in self.drawn.pages.iter().enumerate() {
            let parents: Vec<Object> = nodes.iter().map(|node| Object::Reference(self.ids[*node])).collect();
            numbers.push(Object::Integer(page as i64));
            numbers.push(Object::Reference(doc.add_object(parents)));
        }
        doc.add_object(dictionary! { "Nums" => numbers })
    }
}

/// Standard structure types (ISO 32000-1, 14.8.4).
fn tag(role: Role) -> &'static str {
    match role {
        Role::Document => "Document",
        Role::Section => "Sect",
        Role::Heading(level) => ["H1", "H2", "H3", "H4", "H5", "H6"][usize::from(level.clamp(1, 6)) - 1],
        Role::Paragraph => "P",
        Role::List => "L",
        Role::ListItem => "LI",
        Role::ListLabel => "Lbl",
        Role::ListBody => "LBody",
        Role::Table => "Table",
        Role::Row => "TR",
        Role::Header(_) => "TH",
        Role::Cell => "TD",
        Role::Figure => "Figure",
        Role::Caption => "Caption",
    }
}

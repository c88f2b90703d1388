//! The tree that screen readers follow: what each drawn piece is, in reading order (ISO 14289-1).

use krilla::tagging::{Identifier, ListNumbering, TableHeaderScope, Tag, TagGroup, TagKind, TagTree};
use std::num::NonZeroU16;

/// A node of the tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NodeId(usize);

/// What a node is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    Heading(u8, String),
    Paragraph,
    Notice,
    BulletList,
    NumberedList,
    Entry,
    Label,
    Body,
    Table,
    Row,
    ColumnHead,
    RowHead,
    Cell,
    Figure(String),
}

#[derive(Debug)]
struct Node {
    role: Role,
    nodes: Vec<NodeId>,
    content: Vec<Identifier>,
}

/// All nodes.
#[derive(Debug, Default)]
pub(crate) struct Tags {
    nodes: Vec<Node>,
    top: Vec<NodeId>,
}

impl Tags {
    /// A new node below `parent`, or at the top.
    pub(crate) fn add(&mut self, parent: Option<NodeId>, role: Role) -> NodeId {
        let id = NodeId(self.nodes.len());
        self.nodes.push(Node { role, nodes: Vec::new(), content: Vec::new() });
        match parent {
            Some(NodeId(parent)) => self.nodes[parent].nodes.push(id),
            None => self.top.push(id),
        }
        id
    }

    /// A drawn piece of a node.
    pub(crate) fn draw(&mut self, NodeId(node): NodeId, piece: Identifier) {
        self.nodes[node].content.push(piece);
    }

    /// The tree, without nodes in which nothing was drawn.
    pub(crate) fn tree(&self) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some("en".into()));
        self.top.iter().filter_map(|id| self.group(*id)).for_each(|group| tree.push(group));
        tree
    }

    fn group(&self, NodeId(id): NodeId) -> Option<TagGroup> {
        let node = &self.nodes[id];
        let mut group = TagGroup::new(kind(&node.role));
        node.content.iter().for_each(|piece| group.push(*piece));
        node.nodes.iter().filter_map(|child| self.group(*child)).for_each(|child| group.push(child));
        (!group.children.is_empty()).then_some(group)
    }
}

fn kind(role: &Role) -> TagKind {
    match role {
        Role::Heading(level, text) => {
            let level = NonZeroU16::new(u16::from(*level)).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(text.clone())).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::Notice => Tag::Div.into(),
        Role::BulletList => Tag::L(ListNumbering::Disc).into(),
        Role::NumberedList => Tag::L(ListNumbering::Decimal).into(),
        Role::Entry => Tag::LI.into(),
        Role::Label => Tag::Lbl.into(),
        Role::Body => Tag::LBody.into(),
        Role::Table => Tag::Table.into(),
        Role::Row => Tag::TR.into(),
        Role::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
        Role::RowHead => Tag::TH(TableHeaderScope::Row).into(),
        Role::Cell => Tag::TD.into(),
        Role::Figure(told) => Tag::Figure(Some(told.clone())).into(),
    }
}

//! A general Bayesian network of yes/no nodes, answered by visiting every state: slow, short, and shares no code with
//! the engine that it judges.

/// One node: its parents, and P(yes) for each of their states (bit i of the row for parent i).
#[derive(Clone, Debug)]
pub struct Node {
    pub parents: Vec<usize>,
    pub yes: Vec<f64>,
}

/// Nodes, parents before children.
#[derive(Clone, Debug, Default)]
pub struct Net {
    pub nodes: Vec<Node>,
}

impl Net {
    pub fn add(&mut self, parents: &[usize], yes: &[f64]) -> usize {
        assert_eq!(yes.len(), 1 << parents.len());
        self.nodes.push(Node { parents: parents.to_vec(), yes: yes.to_vec() });
        self.nodes.len() - 1
    }

    /// P(every condition holds).
    pub fn joint(&self, conditions: &[(usize, bool)]) -> f64 {
        self.sum(|state| conditions.iter().all(|(node, value)| (state >> node & 1 == 1) == *value))
    }

    /// P(all of `wanted` | `given`).
    pub fn given(&self, wanted: &[(usize, bool)], given: &[(usize, bool)]) -> f64 {
        self.joint(&[wanted, given].concat()) / self.joint(given)
    }

    /// The sum of the probabilities of all states that are kept.
    pub fn sum(&self, keep: impl Fn(usize) -> bool) -> f64 {
        (0..1_usize << self.nodes.len()).filter(|state| keep(*state)).map(|state| self.probability(state)).sum()
    }

    fn probability(&self, state: usize) -> f64 {
        let of = |(place, node): (usize, &Node)| {
            let row = node.parents.iter().enumerate().map(|(bit, parent)| (state >> parent & 1) << bit).sum::<usize>();
            if state >> place & 1 == 1 { node.yes[row] } else { 1.0 - node.yes[row] }
        };
        self.nodes.iter().enumerate().map(of).product()
    }
}

-- The words of everything that can be looked for.
--
-- Why so: each database's own full-text index answers which texts hold a word, and takes no extension. Typing errors
-- are met one step before: `search_word` holds every word once, `search_gram` its letters in threes, so that the words
-- near a mistyped one are found in a list of some ten thousand words instead of in all texts, and by the same rule on
-- both databases. All of it can be made anew from the other tables.
-- up

CREATE TABLE search_doc (
    doc INTEGER NOT NULL PRIMARY KEY,
    subject TEXT NOT NULL,
    row_key TEXT NOT NULL,
    words TEXT NOT NULL,
    UNIQUE (subject, row_key)
) STRICT;;
ONLY SQLITE CREATE VIRTUAL TABLE search_text USING fts5 (words, content = '', contentless_delete = 1, tokenize = 'unicode61 remove_diacritics 0', detail = none);;
ONLY POSTGRES ALTER TABLE search_doc ADD COLUMN vector TSVECTOR;;
ONLY POSTGRES CREATE INDEX search_vector ON search_doc USING gin (vector);;

CREATE TABLE search_word (
    word TEXT NOT NULL PRIMARY KEY,
    uses INTEGER NOT NULL CHECK (uses >= 1)
) STRICT;;

CREATE TABLE search_gram (
    gram TEXT NOT NULL,
    word TEXT NOT NULL,
    PRIMARY KEY (gram, word)
) STRICT;;
CREATE INDEX search_gram_of_word ON search_gram (word);;

-- down

DROP TABLE search_gram;;
DROP TABLE search_word;;
ONLY SQLITE DROP TABLE search_text;;
DROP TABLE search_doc;;

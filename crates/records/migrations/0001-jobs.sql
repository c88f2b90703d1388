-- People, customers, trucks with their build versions, jobs with their life cycle, findings, prices and answers.
--
-- Why so: whatever the program refuses, the tables refuse too, so that no other hand can write a state that the program
-- would not. Ids are text, money is whole minor units, times are milliseconds since 1970 (UTC): three types that both
-- databases give back exactly as they took them.
-- up

CREATE TABLE person (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (length(name) > 0),
    role TEXT NOT NULL CHECK (role IN ('owner', 'counter', 'technician')),
    active INTEGER NOT NULL CHECK (active IN (0, 1)),
    password TEXT,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL
) STRICT;;

CREATE TABLE customer (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL,
    phone TEXT NOT NULL,
    email TEXT NOT NULL,
    address TEXT NOT NULL,
    note TEXT NOT NULL,
    erased INTEGER NOT NULL CHECK (erased IN (0, 1)),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    CHECK ((erased = 0 AND length(name) > 0) OR (erased = 1 AND name = '' AND phone = '' AND email = '' AND address = '' AND note = ''))
) STRICT;;

CREATE TABLE truck (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    customer TEXT NOT NULL REFERENCES customer (id),
    tag TEXT NOT NULL UNIQUE CHECK (length(tag) = 7),
    name TEXT NOT NULL,
    note TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL
) STRICT;;
CREATE INDEX truck_of_customer ON truck (customer);;

-- A build is never changed: other parts or settings are the next one.
CREATE TABLE build (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    truck TEXT NOT NULL REFERENCES truck (id),
    number INTEGER NOT NULL CHECK (number >= 1),
    tables TEXT NOT NULL,
    reason TEXT NOT NULL,
    who TEXT REFERENCES person (id),
    made INTEGER NOT NULL,
    UNIQUE (truck, number),
    UNIQUE (id, truck)
) STRICT;;
APPEND ONLY build;;

CREATE TABLE life_cycle (
    from_state TEXT NOT NULL,
    to_state TEXT NOT NULL,
    PRIMARY KEY (from_state, to_state)
) STRICT;;
INSERT INTO life_cycle (from_state, to_state) VALUES
    ('', 'taken-in'),
    ('taken-in', 'looked-at'), ('taken-in', 'declined'),
    ('looked-at', 'priced'), ('looked-at', 'ready'), ('looked-at', 'declined'),
    ('priced', 'waiting-for-answer'), ('priced', 'agreed'), ('priced', 'declined'),
    ('waiting-for-answer', 'priced'), ('waiting-for-answer', 'agreed'), ('waiting-for-answer', 'declined'),
    ('declined', 'priced'), ('declined', 'collected'),
    ('agreed', 'priced'), ('agreed', 'waiting-for-answer'), ('agreed', 'waiting-for-parts'), ('agreed', 'on-the-bench'),
    ('agreed', 'declined'),
    ('waiting-for-parts', 'priced'), ('waiting-for-parts', 'waiting-for-answer'), ('waiting-for-parts', 'on-the-bench'),
    ('waiting-for-parts', 'declined'),
    ('on-the-bench', 'priced'), ('on-the-bench', 'waiting-for-answer'), ('on-the-bench', 'waiting-for-parts'),
    ('on-the-bench', 'checked'), ('on-the-bench', 'declined'),
    ('checked', 'on-the-bench'), ('checked', 'ready'),
    ('ready', 'on-the-bench'), ('ready', 'collected'),
    ('collected', 'rechecked');;
APPEND ONLY life_cycle;;

CREATE TABLE job (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    number INTEGER NOT NULL UNIQUE CHECK (number >= 1),
    truck TEXT NOT NULL REFERENCES truck (id),
    build TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('repair', 'warranty', 'check', 'change')),
    complaint TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('taken-in', 'looked-at', 'priced', 'waiting-for-answer', 'declined', 'agreed',
        'waiting-for-parts', 'on-the-bench', 'checked', 'ready', 'collected', 'rechecked')),
    open INTEGER NOT NULL CHECK (open = CASE WHEN state IN ('collected', 'rechecked') THEN 0 ELSE 1 END),
    comeback_of TEXT CHECK (comeback_of <> id),
    said TEXT NOT NULL,
    tables TEXT NOT NULL,
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    looking_fee INTEGER NOT NULL CHECK (looking_fee >= 0),
    due INTEGER,
    taken_in INTEGER NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    UNIQUE (id, truck),
    FOREIGN KEY (build, truck) REFERENCES build (id, truck),
    FOREIGN KEY (comeback_of, truck) REFERENCES job (id, truck)
) STRICT;;
CREATE INDEX job_open ON job (due, number) WHERE open = 1;;
CREATE INDEX job_of_truck ON job (truck, number);;
CREATE INDEX job_comeback ON job (comeback_of) WHERE comeback_of IS NOT NULL;;

-- Another hand than the program's cannot leave the life cycle either.
ONLY SQLITE CREATE TRIGGER job_life BEFORE UPDATE OF state ON job
WHEN NEW.state <> OLD.state
    AND NOT EXISTS (SELECT 1 FROM life_cycle WHERE from_state = OLD.state AND to_state = NEW.state)
BEGIN SELECT RAISE(ABORT, 'a job does not go from one of these states to the other'); END;;
ONLY POSTGRES CREATE FUNCTION job_life() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.state <> OLD.state
        AND NOT EXISTS (SELECT 1 FROM life_cycle WHERE from_state = OLD.state AND to_state = NEW.state)
    THEN RAISE EXCEPTION 'a job does not go from one of these states to the other'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER job_life BEFORE UPDATE OF state ON job FOR EACH ROW EXECUTE FUNCTION job_life();;

CREATE TABLE job_move (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    step INTEGER NOT NULL CHECK (step >= 1),
    from_state TEXT NOT NULL,
    to_state TEXT NOT NULL,
    reason TEXT NOT NULL,
    who TEXT REFERENCES person (id),
    at INTEGER NOT NULL,
    UNIQUE (job, step),
    FOREIGN KEY (from_state, to_state) REFERENCES life_cycle (from_state, to_state),
    CHECK (to_state <> 'declined' OR length(reason) > 0)
) STRICT;;
APPEND ONLY job_move;;

CREATE TABLE finding (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    asked TEXT NOT NULL CHECK (length(asked) > 0),
    answer TEXT NOT NULL CHECK (answer IN ('yes', 'no')),
    value TEXT,
    note TEXT NOT NULL,
    seen_by TEXT REFERENCES person (id),
    seen_at INTEGER NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    UNIQUE (job, asked),
    UNIQUE (id, job)
) STRICT;;

CREATE TABLE verdict (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    program TEXT NOT NULL,
    book TEXT NOT NULL,
    body TEXT NOT NULL,
    made INTEGER NOT NULL
) STRICT;;
CREATE INDEX verdict_of_job ON verdict (job, made);;
APPEND ONLY verdict;;

CREATE TABLE offer (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    name TEXT NOT NULL CHECK (length(name) > 0),
    price INTEGER NOT NULL CHECK (price >= 0),
    minutes INTEGER NOT NULL CHECK (minutes >= 0),
    comeback_ppm INTEGER CHECK (comeback_ppm BETWEEN 0 AND 1000000),
    answer TEXT NOT NULL CHECK (answer IN ('open', 'taken', 'declined')),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL
) STRICT;;
CREATE INDEX offer_of_job ON offer (job);;
CREATE UNIQUE INDEX offer_taken ON offer (job) WHERE answer = 'taken';;

CREATE TABLE line (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    kind TEXT NOT NULL CHECK (kind IN ('work', 'part')),
    text TEXT NOT NULL CHECK (length(text) > 0),
    quantity INTEGER NOT NULL CHECK (quantity BETWEEN 1 AND 10000),
    price INTEGER NOT NULL CHECK (price >= 0),
    minutes INTEGER NOT NULL CHECK (minutes >= 0),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL
) STRICT;;
CREATE INDEX line_of_job ON line (job);;

-- A customer's yes or no is never changed; a later one stands beside it. Only whose voice it was can be forgotten.
CREATE TABLE go_ahead (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    channel TEXT NOT NULL CHECK (channel IN ('counter', 'phone', 'link')),
    answer TEXT NOT NULL CHECK (answer IN ('yes', 'no')),
    up_to INTEGER NOT NULL CHECK (up_to >= 0),
    said_by TEXT NOT NULL,
    taken_by TEXT REFERENCES person (id),
    at INTEGER NOT NULL
) STRICT;;
CREATE INDEX go_ahead_of_job ON go_ahead (job, at);;
APPEND ONLY go_ahead BUT said_by;;

CREATE TABLE form (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) BETWEEN 8 AND 100),
    content TEXT NOT NULL CHECK (length(content) = 64),
    answer TEXT NOT NULL,
    at INTEGER NOT NULL
) STRICT;;
CREATE INDEX form_by_age ON form (at);;

CREATE TABLE audit (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    step INTEGER NOT NULL UNIQUE CHECK (step >= 1),
    at INTEGER NOT NULL,
    who TEXT,
    subject TEXT NOT NULL,
    row_key TEXT NOT NULL,
    act TEXT NOT NULL,
    what TEXT NOT NULL
) STRICT;;
CREATE INDEX audit_of_row ON audit (row_key, step);;
APPEND ONLY audit;;

-- down

DROP TABLE audit;;
DROP TABLE form;;
DROP TABLE go_ahead;;
DROP TABLE line;;
DROP TABLE offer;;
DROP TABLE verdict;;
DROP TABLE finding;;
DROP TABLE job_move;;
DROP TABLE job;;
ONLY POSTGRES DROP FUNCTION job_life;;
DROP TABLE life_cycle;;
DROP TABLE build;;
DROP TABLE truck;;
DROP TABLE customer;;
DROP TABLE person;;

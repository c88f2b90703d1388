-- The shop's own settings, who is let in, and the customer's yes in the tables too.
--
-- Why so: secrets are kept as hashes alone, so that whoever reads the file cannot come in with what stands there; a
-- password's hash is of a kind that is slow to guess, a drawn secret of 256 bits needs no more than SHA-256. What was
-- revoked stays revoked, and the shop never loses its last owner. Work without a yes, or above it, was refused by the
-- program alone; here the tables refuse it as well, by the same rule.
-- up

CREATE TABLE shop (
    id TEXT NOT NULL PRIMARY KEY CHECK (id = '00000000-0000-7000-8000-000000000000'),
    name TEXT NOT NULL,
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    labour_rate INTEGER NOT NULL CHECK (labour_rate BETWEEN 0 AND 1000000000),
    looking_fee INTEGER NOT NULL CHECK (looking_fee BETWEEN 0 AND 1000000000),
    comeback_cost INTEGER NOT NULL CHECK (comeback_cost BETWEEN 0 AND 1000000000),
    horizon_runs INTEGER NOT NULL CHECK (horizon_runs BETWEEN 1 AND 10000),
    units TEXT NOT NULL CHECK (units IN ('metric', 'us')),
    time_zone TEXT NOT NULL CHECK (length(time_zone) > 0),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL
) STRICT;;

CREATE TABLE session (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 64),
    person TEXT NOT NULL REFERENCES person (id),
    device TEXT NOT NULL,
    made INTEGER NOT NULL,
    seen INTEGER NOT NULL CHECK (seen >= made),
    ends INTEGER NOT NULL CHECK (ends > made)
) STRICT;;
CREATE INDEX session_of_person ON session (person);;
CREATE INDEX session_by_end ON session (ends);;

CREATE TABLE token (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    secret TEXT NOT NULL UNIQUE CHECK (length(secret) = 64),
    kind TEXT NOT NULL CHECK (kind IN ('program', 'link')),
    person TEXT REFERENCES person (id),
    job TEXT REFERENCES job (id),
    label TEXT NOT NULL,
    made INTEGER NOT NULL,
    ends INTEGER NOT NULL CHECK (ends > made),
    revoked INTEGER CHECK (revoked >= made),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    CHECK ((kind = 'program' AND person IS NOT NULL AND job IS NULL) OR (kind = 'link' AND job IS NOT NULL AND person IS NULL))
) STRICT;;
CREATE INDEX token_of_person ON token (person) WHERE person IS NOT NULL;;
CREATE INDEX token_of_job ON token (job) WHERE job IS NOT NULL;;

ONLY SQLITE CREATE TRIGGER token_stays BEFORE UPDATE ON token
WHEN NEW.secret <> OLD.secret OR NEW.person IS DISTINCT FROM OLD.person OR NEW.job IS DISTINCT FROM OLD.job
    OR (OLD.revoked IS NOT NULL AND NEW.revoked IS DISTINCT FROM OLD.revoked)
BEGIN SELECT RAISE(ABORT, 'a token opens one door, and once revoked none'); END;;
ONLY POSTGRES CREATE FUNCTION token_stays() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.secret <> OLD.secret OR NEW.person IS DISTINCT FROM OLD.person OR NEW.job IS DISTINCT FROM OLD.job
        OR (OLD.revoked IS NOT NULL AND NEW.revoked IS DISTINCT FROM OLD.revoked)
    THEN RAISE EXCEPTION 'a token opens one door, and once revoked none'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER token_stays BEFORE UPDATE ON token FOR EACH ROW EXECUTE FUNCTION token_stays();;

ONLY SQLITE CREATE TRIGGER person_password_new BEFORE INSERT ON person
WHEN NEW.password IS NOT NULL AND substr(NEW.password, 1, 10) <> '$argon2id$'
BEGIN SELECT RAISE(ABORT, 'a password is kept as its argon2id hash alone'); END;;
ONLY SQLITE CREATE TRIGGER person_password BEFORE UPDATE ON person
WHEN NEW.password IS NOT NULL AND substr(NEW.password, 1, 10) <> '$argon2id$'
BEGIN SELECT RAISE(ABORT, 'a password is kept as its argon2id hash alone'); END;;
ONLY SQLITE CREATE TRIGGER person_owner BEFORE UPDATE ON person
WHEN OLD.role = 'owner' AND OLD.active = 1 AND (NEW.role <> 'owner' OR NEW.active = 0)
    AND NOT EXISTS (SELECT 1 FROM person WHERE id <> OLD.id AND role = 'owner' AND active = 1)
BEGIN SELECT RAISE(ABORT, 'the shop keeps at least one owner'); END;;
ONLY POSTGRES CREATE FUNCTION person_rules() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.password IS NOT NULL AND substr(NEW.password, 1, 10) <> '$argon2id$'
    THEN RAISE EXCEPTION 'a password is kept as its argon2id hash alone'; END IF;
    IF TG_OP = 'UPDATE' THEN
        IF OLD.role = 'owner' AND OLD.active = 1 AND (NEW.role <> 'owner' OR NEW.active = 0)
            AND NOT EXISTS (SELECT 1 FROM person WHERE id <> OLD.id AND role = 'owner' AND active = 1)
        THEN RAISE EXCEPTION 'the shop keeps at least one owner'; END IF;
    END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER person_rules BEFORE INSERT OR UPDATE ON person FOR EACH ROW EXECUTE FUNCTION person_rules();;

-- The last answer counts; its price is the offer that was taken and the free lines.
ONLY SQLITE CREATE TRIGGER job_yes BEFORE UPDATE OF state ON job
WHEN NEW.state <> OLD.state AND NEW.kind <> 'warranty'
    AND NEW.state IN ('agreed', 'waiting-for-parts', 'on-the-bench', 'checked')
    AND COALESCE((SELECT CASE answer WHEN 'yes' THEN up_to ELSE -1 END FROM go_ahead
            WHERE job = NEW.id ORDER BY at DESC, id DESC LIMIT 1), -1)
        < COALESCE((SELECT SUM(price) FROM offer WHERE job = NEW.id AND answer = 'taken'), 0)
        + COALESCE((SELECT SUM(price * quantity) FROM line WHERE job = NEW.id), 0)
BEGIN SELECT RAISE(ABORT, 'the customer has not agreed to this price'); END;;
ONLY SQLITE CREATE TRIGGER job_clocks BEFORE UPDATE OF state ON job
WHEN NEW.state IN ('checked', 'ready', 'collected', 'rechecked')
    AND EXISTS (SELECT 1 FROM stint WHERE job = NEW.id AND ended IS NULL)
BEGIN SELECT RAISE(ABORT, 'the clocks of the bench still run on this job'); END;;
ONLY POSTGRES CREATE FUNCTION job_facts() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.state <> OLD.state AND NEW.kind <> 'warranty'
        AND NEW.state IN ('agreed', 'waiting-for-parts', 'on-the-bench', 'checked')
        AND COALESCE((SELECT CASE answer WHEN 'yes' THEN up_to ELSE -1 END FROM go_ahead
                WHERE job = NEW.id ORDER BY at DESC, id DESC LIMIT 1), -1)
            < COALESCE((SELECT SUM(price) FROM offer WHERE job = NEW.id AND answer = 'taken'), 0)
            + COALESCE((SELECT SUM(price * quantity) FROM line WHERE job = NEW.id), 0)
    THEN RAISE EXCEPTION 'the customer has not agreed to this price'; END IF;
    IF NEW.state IN ('checked', 'ready', 'collected', 'rechecked')
        AND EXISTS (SELECT 1 FROM stint WHERE job = NEW.id AND ended IS NULL)
    THEN RAISE EXCEPTION 'the clocks of the bench still run on this job'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER job_facts BEFORE UPDATE OF state ON job FOR EACH ROW EXECUTE FUNCTION job_facts();;

-- down

ONLY SQLITE DROP TRIGGER job_clocks;;
ONLY SQLITE DROP TRIGGER job_yes;;
ONLY SQLITE DROP TRIGGER person_owner;;
ONLY SQLITE DROP TRIGGER person_password;;
ONLY SQLITE DROP TRIGGER person_password_new;;
ONLY POSTGRES DROP TRIGGER job_facts ON job;;
ONLY POSTGRES DROP TRIGGER person_rules ON person;;
ONLY POSTGRES DROP FUNCTION job_facts;;
ONLY POSTGRES DROP FUNCTION person_rules;;
DROP TABLE token;;
ONLY POSTGRES DROP FUNCTION token_stays;;
DROP TABLE session;;
DROP TABLE shop;;

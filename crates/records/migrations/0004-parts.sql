-- Parts: what the shop keeps and sells, what a job needs of them, every piece that came or went.
--
-- Why so: the shelf is a ledger. A count that is written over forgets why it changed, so each line holds the change and
-- the count after it; the newest line is the count, and a line that does not follow the one before it is refused. Nothing
-- is used, arrives or goes back without its line. Lengths are whole nanometres: 32 teeth per inch are a module of
-- 793 750 nm and 1/8 inch a bore of 3 175 000 nm, both exactly. A gear that differs in pitch, teeth or bore from what the
-- job needs is refused here as in the program.
-- up

CREATE TABLE part (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (length(name) > 0),
    gear TEXT CHECK (gear IN ('pinion', 'spur')),
    teeth INTEGER CHECK (teeth BETWEEN 5 AND 500),
    module_nm INTEGER CHECK (module_nm BETWEEN 200000 AND 5000000),
    bore_nm INTEGER CHECK (bore_nm BETWEEN 500000 AND 100000000),
    supplier TEXT NOT NULL,
    order_number TEXT NOT NULL,
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    cost INTEGER NOT NULL CHECK (cost >= 0),
    price INTEGER NOT NULL CHECK (price >= 0),
    lead_days INTEGER CHECK (lead_days BETWEEN 0 AND 1000),
    keep INTEGER NOT NULL CHECK (keep BETWEEN 0 AND 10000),
    active INTEGER NOT NULL CHECK (active IN (0, 1)),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    CHECK ((gear IS NULL) = (teeth IS NULL) AND (gear IS NULL) = (module_nm IS NULL)),
    CHECK (gear IS NOT NULL OR bore_nm IS NULL)
) STRICT;;
CREATE UNIQUE INDEX part_order_number ON part (supplier, order_number) WHERE order_number <> '';;
CREATE INDEX part_by_name ON part (name);;

CREATE TABLE need (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT REFERENCES job (id),
    part TEXT REFERENCES part (id),
    text TEXT NOT NULL CHECK (length(text) > 0),
    gear TEXT CHECK (gear IN ('pinion', 'spur')),
    teeth INTEGER CHECK (teeth BETWEEN 5 AND 500),
    module_nm INTEGER CHECK (module_nm BETWEEN 200000 AND 5000000),
    bore_nm INTEGER CHECK (bore_nm BETWEEN 500000 AND 100000000),
    quantity INTEGER NOT NULL CHECK (quantity BETWEEN 1 AND 10000),
    state TEXT NOT NULL CHECK (state IN ('wanted', 'ordered', 'arrived', 'used', 'returned', 'dropped')),
    note TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    CHECK ((gear IS NULL) = (teeth IS NULL) AND (gear IS NULL) = (module_nm IS NULL)),
    CHECK (gear IS NOT NULL OR bore_nm IS NULL),
    CHECK (state IN ('wanted', 'dropped') OR part IS NOT NULL),
    CHECK (job IS NOT NULL OR (part IS NOT NULL AND state <> 'used'))
) STRICT;;
CREATE INDEX need_of_job ON need (job);;
CREATE INDEX need_of_part ON need (part, state);;
CREATE INDEX need_under_way ON need (state, part) WHERE state IN ('wanted', 'ordered', 'arrived');;

CREATE TABLE need_cycle (
    from_state TEXT NOT NULL,
    to_state TEXT NOT NULL,
    why TEXT NOT NULL,
    PRIMARY KEY (from_state, to_state)
) STRICT;;
INSERT INTO need_cycle (from_state, to_state, why) VALUES
    ('wanted', 'ordered', ''), ('wanted', 'used', 'used'), ('wanted', 'dropped', ''),
    ('ordered', 'arrived', 'arrived'), ('ordered', 'wanted', ''), ('ordered', 'dropped', ''),
    ('arrived', 'used', 'used'), ('arrived', 'returned', 'returned'), ('arrived', 'wanted', ''),
    ('used', 'arrived', 'put-back'),
    ('returned', 'wanted', ''),
    ('dropped', 'wanted', '');;
APPEND ONLY need_cycle;;

CREATE TABLE stock (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    step INTEGER NOT NULL UNIQUE CHECK (step >= 1),
    part TEXT NOT NULL REFERENCES part (id),
    need TEXT REFERENCES need (id),
    change INTEGER NOT NULL,
    on_shelf INTEGER NOT NULL CHECK (on_shelf >= 0),
    why TEXT NOT NULL CHECK (why IN ('counted', 'lost', 'arrived', 'used', 'put-back', 'returned')),
    note TEXT NOT NULL,
    who TEXT REFERENCES person (id),
    at INTEGER NOT NULL,
    CHECK ((why IN ('counted', 'lost')) = (need IS NULL)),
    CHECK (why NOT IN ('arrived', 'put-back') OR change > 0),
    CHECK (why NOT IN ('lost', 'used', 'returned') OR change < 0)
) STRICT;;
CREATE INDEX stock_of_part ON stock (part, step);;
CREATE INDEX stock_of_need ON stock (need, step);;
APPEND ONLY stock;;

ONLY SQLITE CREATE TRIGGER stock_follows BEFORE INSERT ON stock
WHEN NEW.on_shelf <> NEW.change
        + COALESCE((SELECT on_shelf FROM stock WHERE part = NEW.part ORDER BY step DESC LIMIT 1), 0)
    OR NEW.step <= COALESCE((SELECT MAX(step) FROM stock WHERE part = NEW.part), 0)
BEGIN SELECT RAISE(ABORT, 'a line of the shelf follows the one before it'); END;;
ONLY SQLITE CREATE TRIGGER stock_of_its_need BEFORE INSERT ON stock
WHEN NEW.need IS NOT NULL
    AND NOT EXISTS (SELECT 1 FROM need WHERE id = NEW.need AND part = NEW.part AND quantity = ABS(NEW.change))
BEGIN SELECT RAISE(ABORT, 'as many pieces come or go as the job needs, and of that part'); END;;
ONLY POSTGRES CREATE FUNCTION stock_follows() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.on_shelf <> NEW.change
            + COALESCE((SELECT on_shelf FROM stock WHERE part = NEW.part ORDER BY step DESC LIMIT 1), 0)
        OR NEW.step <= COALESCE((SELECT MAX(step) FROM stock WHERE part = NEW.part), 0)
    THEN RAISE EXCEPTION 'a line of the shelf follows the one before it'; END IF;
    IF NEW.need IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM need WHERE id = NEW.need AND part = NEW.part AND quantity = ABS(NEW.change))
    THEN RAISE EXCEPTION 'as many pieces come or go as the job needs, and of that part'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER stock_follows BEFORE INSERT ON stock FOR EACH ROW EXECUTE FUNCTION stock_follows();;

-- A need goes its way, and only with its line of the shelf; quantity and part stand still once pieces have moved.
ONLY SQLITE CREATE TRIGGER need_life BEFORE UPDATE ON need
WHEN (NEW.state <> OLD.state AND NOT EXISTS (SELECT 1 FROM need_cycle
        WHERE from_state = OLD.state AND to_state = NEW.state AND (why = ''
            OR why = (SELECT why FROM stock WHERE need = NEW.id ORDER BY step DESC LIMIT 1))))
    OR (OLD.state IN ('arrived', 'used') AND (NEW.part IS DISTINCT FROM OLD.part OR NEW.quantity <> OLD.quantity))
BEGIN SELECT RAISE(ABORT, 'a need does not change so'); END;;
ONLY POSTGRES CREATE FUNCTION need_life() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF (NEW.state <> OLD.state AND NOT EXISTS (SELECT 1 FROM need_cycle
            WHERE from_state = OLD.state AND to_state = NEW.state AND (why = ''
                OR why = (SELECT stock.why FROM stock WHERE need = NEW.id ORDER BY step DESC LIMIT 1))))
        OR (OLD.state IN ('arrived', 'used') AND (NEW.part IS DISTINCT FROM OLD.part OR NEW.quantity <> OLD.quantity))
    THEN RAISE EXCEPTION 'a need does not change so'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER need_life BEFORE UPDATE ON need FOR EACH ROW EXECUTE FUNCTION need_life();;

-- The wrong gear: modules within a thousandth and bores within 0.02 mm are the same one.
ONLY SQLITE CREATE TRIGGER need_fits_new BEFORE INSERT ON need
WHEN NEW.gear IS NOT NULL AND EXISTS (SELECT 1 FROM part WHERE id = NEW.part AND (gear IS NULL OR gear <> NEW.gear
    OR teeth <> NEW.teeth OR ABS(module_nm - NEW.module_nm) * 1000 > NEW.module_nm OR ABS(bore_nm - NEW.bore_nm) > 20000))
BEGIN SELECT RAISE(ABORT, 'the part is not the gear that the job needs'); END;;
ONLY SQLITE CREATE TRIGGER need_fits BEFORE UPDATE ON need
WHEN NEW.gear IS NOT NULL AND EXISTS (SELECT 1 FROM part WHERE id = NEW.part AND (gear IS NULL OR gear <> NEW.gear
    OR teeth <> NEW.teeth OR ABS(module_nm - NEW.module_nm) * 1000 > NEW.module_nm OR ABS(bore_nm - NEW.bore_nm) > 20000))
BEGIN SELECT RAISE(ABORT, 'the part is not the gear that the job needs'); END;;
ONLY POSTGRES CREATE FUNCTION need_fits() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.gear IS NOT NULL AND EXISTS (SELECT 1 FROM part WHERE id = NEW.part AND (gear IS NULL OR gear <> NEW.gear
        OR teeth <> NEW.teeth OR ABS(module_nm - NEW.module_nm) * 1000 > NEW.module_nm
        OR ABS(bore_nm - NEW.bore_nm) > 20000))
    THEN RAISE EXCEPTION 'the part is not the gear that the job needs'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER need_fits BEFORE INSERT OR UPDATE ON need FOR EACH ROW EXECUTE FUNCTION need_fits();;

-- Nor does the part become another one behind the need's back.
ONLY SQLITE CREATE TRIGGER part_stays BEFORE UPDATE ON part
WHEN (NEW.gear IS DISTINCT FROM OLD.gear OR NEW.teeth IS DISTINCT FROM OLD.teeth
        OR NEW.module_nm IS DISTINCT FROM OLD.module_nm OR NEW.bore_nm IS DISTINCT FROM OLD.bore_nm)
    AND EXISTS (SELECT 1 FROM need WHERE part = OLD.id)
BEGIN SELECT RAISE(ABORT, 'the measures of a part that a job names are never changed'); END;;
ONLY POSTGRES CREATE FUNCTION part_stays() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF (NEW.gear IS DISTINCT FROM OLD.gear OR NEW.teeth IS DISTINCT FROM OLD.teeth
            OR NEW.module_nm IS DISTINCT FROM OLD.module_nm OR NEW.bore_nm IS DISTINCT FROM OLD.bore_nm)
        AND EXISTS (SELECT 1 FROM need WHERE part = OLD.id)
    THEN RAISE EXCEPTION 'the measures of a part that a job names are never changed'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER part_stays BEFORE UPDATE ON part FOR EACH ROW EXECUTE FUNCTION part_stays();;

-- down

DROP TABLE stock;;
DROP TABLE need;;
DROP TABLE need_cycle;;
DROP TABLE part;;
ONLY POSTGRES DROP FUNCTION part_stays;;
ONLY POSTGRES DROP FUNCTION need_fits;;
ONLY POSTGRES DROP FUNCTION need_life;;
ONLY POSTGRES DROP FUNCTION stock_follows;;

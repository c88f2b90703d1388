-- Photos: what each shows, and its pixels as they came and in two smaller sizes.
--
-- Why so: the pixels stand in the database, not in a folder beside it. A photo and its row are then there together or
-- not at all after a power cut, a backup is of one moment without stopping anybody, and a second bench sees them on
-- PostgreSQL without a shared folder. They stand in a table of their own, so that lists of photos read none of them.
-- A photo is taken first and filed later: without a job it tells of no finding and of neither before nor after.
-- up

CREATE TABLE photo (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT REFERENCES job (id),
    finding TEXT,
    shows TEXT NOT NULL,
    moment TEXT CHECK (moment IN ('before', 'after')),
    note TEXT NOT NULL,
    media TEXT NOT NULL CHECK (media IN ('image/jpeg', 'image/png')),
    width INTEGER NOT NULL CHECK (width BETWEEN 1 AND 20000),
    height INTEGER NOT NULL CHECK (height BETWEEN 1 AND 20000),
    orientation INTEGER NOT NULL CHECK (orientation BETWEEN 1 AND 8),
    size INTEGER NOT NULL CHECK (size BETWEEN 1 AND 26214400),
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
    taken_by TEXT REFERENCES person (id),
    taken INTEGER NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL,
    CHECK (job IS NOT NULL OR (finding IS NULL AND moment IS NULL)),
    FOREIGN KEY (finding, job) REFERENCES finding (id, job)
) STRICT;;
CREATE INDEX photo_of_job ON photo (job, taken);;
CREATE INDEX photo_of_finding ON photo (finding, job) WHERE finding IS NOT NULL;;
CREATE INDEX photo_unfiled ON photo (taken) WHERE job IS NULL;;

CREATE TABLE photo_copy (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    photo TEXT NOT NULL REFERENCES photo (id),
    scale TEXT NOT NULL CHECK (scale IN ('original', 'large', 'small')),
    bytes BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 26214400),
    UNIQUE (photo, scale)
) STRICT;;

-- What was photographed stays what it was; only where it is filed changes.
ONLY SQLITE CREATE TRIGGER photo_stays BEFORE UPDATE ON photo
WHEN NEW.sha256 <> OLD.sha256 OR NEW.size <> OLD.size OR NEW.width <> OLD.width OR NEW.height <> OLD.height
    OR NEW.media <> OLD.media OR NEW.orientation <> OLD.orientation OR NEW.taken <> OLD.taken
BEGIN SELECT RAISE(ABORT, 'a photo stays what it was'); END;;
ONLY SQLITE CREATE TRIGGER photo_copy_stays BEFORE UPDATE ON photo_copy
BEGIN SELECT RAISE(ABORT, 'a photo stays what it was'); END;;
ONLY POSTGRES CREATE FUNCTION photo_stays() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    IF NEW.sha256 <> OLD.sha256 OR NEW.size <> OLD.size OR NEW.width <> OLD.width OR NEW.height <> OLD.height
        OR NEW.media <> OLD.media OR NEW.orientation <> OLD.orientation OR NEW.taken <> OLD.taken
    THEN RAISE EXCEPTION 'a photo stays what it was'; END IF;
    RETURN NEW;
END $$;;
ONLY POSTGRES CREATE TRIGGER photo_stays BEFORE UPDATE ON photo FOR EACH ROW EXECUTE FUNCTION photo_stays();;
ONLY POSTGRES CREATE FUNCTION photo_copy_stays() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    RAISE EXCEPTION 'a photo stays what it was';
END $$;;
ONLY POSTGRES CREATE TRIGGER photo_copy_stays BEFORE UPDATE ON photo_copy FOR EACH ROW EXECUTE FUNCTION photo_copy_stays();;

-- down

DROP TABLE photo_copy;;
DROP TABLE photo;;
ONLY POSTGRES DROP FUNCTION photo_copy_stays;;
ONLY POSTGRES DROP FUNCTION photo_stays;;

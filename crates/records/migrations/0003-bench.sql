-- The bench's clocks and its signatures.
--
-- Why so: minutes are kept as the two ends of a stint, not as a sum, because several jobs stand open at once and
-- somebody's hour may belong to more than one of them; the share is worked out when it is read. A signature is never
-- changed: whoever tightens again signs again.
-- up

CREATE TABLE stint (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    step TEXT NOT NULL CHECK (length(step) > 0),
    planned_minutes INTEGER NOT NULL CHECK (planned_minutes >= 0),
    who TEXT NOT NULL REFERENCES person (id),
    began INTEGER NOT NULL,
    ended INTEGER CHECK (ended >= began),
    version INTEGER NOT NULL CHECK (version >= 1),
    changed INTEGER NOT NULL
) STRICT;;
CREATE INDEX stint_of_job ON stint (job, began);;
CREATE INDEX stint_of_person ON stint (who, began);;
CREATE INDEX stint_of_step ON stint (step);;
CREATE UNIQUE INDEX stint_running ON stint (job, who, step) WHERE ended IS NULL;;

CREATE TABLE sign_off (
    id TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 36),
    job TEXT NOT NULL REFERENCES job (id),
    step TEXT NOT NULL CHECK (length(step) > 0),
    joint TEXT NOT NULL,
    tightened TEXT NOT NULL,
    note TEXT NOT NULL,
    who TEXT NOT NULL REFERENCES person (id),
    at INTEGER NOT NULL,
    CHECK (joint = '' OR length(tightened) > 0)
) STRICT;;
CREATE INDEX sign_off_of_job ON sign_off (job, at);;
APPEND ONLY sign_off;;

-- down

DROP TABLE sign_off;;
DROP TABLE stint;;

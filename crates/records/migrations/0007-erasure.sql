-- What may tell of a customer can be forgotten, once the customer is erased, and nothing else of the history.
--
-- Why so: builds, steps of a job, verdicts, answers and signatures are never changed, yet an erased customer must leave
-- no word in them. So the tables let the personal columns alone be changed, and only of rows whose customer is erased;
-- before, whoever emptied the voice of an answer could have changed its price in the same breath. The audit trail held
-- names of trucks and texts of free lines and needed parts, which may tell of somebody: those words are taken out of it once.
-- up

FORGETTABLE build BUT tables, reason KEEPING id, truck, number, who, made OF truck;;
FORGETTABLE job_move BUT reason KEEPING id, job, step, from_state, to_state, who, at OF job;;
FORGETTABLE verdict BUT body KEEPING id, job, program, book, made OF job;;
FORGETTABLE go_ahead BUT said_by KEEPING id, job, channel, answer, up_to, taken_by, at OF job;;
FORGETTABLE sign_off BUT note KEEPING id, job, step, joint, tightened, who, at OF job;;
FORGETTABLE stock BUT note KEEPING id, step, part, need, change, on_shelf, why, who, at OF need;;

ONLY SQLITE DROP TRIGGER audit_change;;
ONLY SQLITE UPDATE audit SET what = json_replace(what, '$.name', json('true')) WHERE subject = 'truck';;
ONLY SQLITE UPDATE audit SET what = json_replace(what, '$.text', json('true')) WHERE subject IN ('line', 'need');;
ONLY SQLITE CREATE TRIGGER audit_change BEFORE UPDATE ON audit BEGIN SELECT RAISE(ABORT, 'rows of audit are never changed'); END;;
ONLY POSTGRES ALTER TABLE audit DISABLE TRIGGER audit_change;;
ONLY POSTGRES UPDATE audit SET what = CAST(jsonb_set(CAST(what AS jsonb), '{name}', 'true', false) AS TEXT) WHERE subject = 'truck' AND jsonb_typeof(CAST(what AS jsonb) -> 'name') = 'string';;
ONLY POSTGRES UPDATE audit SET what = CAST(jsonb_set(CAST(what AS jsonb), '{text}', 'true', false) AS TEXT) WHERE subject IN ('line', 'need') AND jsonb_typeof(CAST(what AS jsonb) -> 'text') = 'string';;
ONLY POSTGRES ALTER TABLE audit ENABLE TRIGGER audit_change;;

-- down

UNFORGETTABLE build;;
UNFORGETTABLE job_move;;
UNFORGETTABLE verdict;;
UNFORGETTABLE go_ahead BUT said_by;;
UNFORGETTABLE sign_off;;
UNFORGETTABLE stock;;

-- 0005_saved_question.sql: questions kept by name, and each of their answers as it was told that day. `ask` and `answer` are JSON
-- of the contract; `changes` is the number of the latest change of the record that the answer knew.
CREATE TABLE question (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  ask TEXT NOT NULL CHECK (json_valid(ask)),
  note TEXT CHECK (note <> '')
) STRICT;

CREATE UNIQUE INDEX question_name ON question (name) WHERE deleted_at IS NULL;

CREATE TABLE answer (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  question_id TEXT NOT NULL REFERENCES question (id),
  told_at INTEGER NOT NULL,
  changes INTEGER NOT NULL CHECK (changes >= 0),
  method TEXT NOT NULL CHECK (method <> ''),
  answer TEXT NOT NULL CHECK (json_valid(answer))
) STRICT;

CREATE INDEX answer_question ON answer (question_id);

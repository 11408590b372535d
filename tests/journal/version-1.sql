PRAGMA application_id = 1919837299;
BEGIN TRANSACTION;
CREATE TABLE entry (
                project INTEGER NOT NULL, number INTEGER NOT NULL, at REAL NOT NULL, body TEXT NOT NULL,
                rounds INTEGER NOT NULL, link TEXT NOT NULL, PRIMARY KEY (project, number)) WITHOUT ROWID;
INSERT INTO "entry" VALUES(1,1,1700000002.0,'{"did":"opened","digest":"763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1"}',0,'ae2f6e489a647d14f41ae0b4');
INSERT INTO "entry" VALUES(1,2,1700000004.0,'{"did":"round"}',1,'f3b005b667588d1d2b74d9c1');
INSERT INTO "entry" VALUES(1,3,1700000005.0,'{"did":"round"}',2,'d5eed6455bb0cf8e031983db');
INSERT INTO "entry" VALUES(1,4,1700000006.0,'{"did":"note","text":"a note"}',2,'3d37dbd1622ebeb4bf19f9b7');
INSERT INTO "entry" VALUES(1,5,1700000007.0,'{"did":"stitch","count":3}',2,'08d162ecf242526d32cec910');
INSERT INTO "entry" VALUES(1,6,1700000008.0,'{"did":"closed"}',2,'a9fa7b23348417852fc8385d');
CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at REAL NOT NULL);
INSERT INTO "migration" VALUES(1,'begin',1700000001.0);
CREATE TABLE project (
                id INTEGER PRIMARY KEY, path TEXT NOT NULL, title TEXT NOT NULL, digest TEXT NOT NULL,
                begun_at REAL NOT NULL, share REAL NOT NULL, next TEXT NOT NULL, finished INTEGER NOT NULL,
                touched_at REAL NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "project" VALUES(1,'/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1',1700000003.0,3.3870967741935481543e-01,'Cap, Rnd 3: 1 single crochet, then an increase',0,1700000008.0,6,'a9fa7b23348417852fc8385d','745b39da885311fd290ed3f9');
CREATE TABLE saved (
                project INTEGER NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, path TEXT NOT NULL,
                title TEXT NOT NULL, digest TEXT NOT NULL, state TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "saved" VALUES(1,1,'ae2f6e489a647d14f41ae0b4','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000002.0,"work":{"copy":[0,1],"place":[0,0,0],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1]},"past":[]}','5124a7fe1f69a7ed920407df');
INSERT INTO "saved" VALUES(1,6,'a9fa7b23348417852fc8385d','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000008.0,"work":{"copy":[0,1],"place":[2,3,3],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[[0,1,2,0,"a note",1700000006.0]],"steps_done":[],"asks":["change",1]},"past":[{"place":[2,0,0],"count_due":true},{"notes":[0]},{"place":[1,0,0],"count_due":false},{"place":[0,0,0]}]}','7e39714d99705f957f2c58aa');
CREATE TABLE wording (
                project INTEGER NOT NULL, digest TEXT NOT NULL, source TEXT NOT NULL, outline TEXT NOT NULL,
                seal TEXT NOT NULL);
INSERT INTO "wording" VALUES(1,'763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','Toadstool
# Cap
Rnd 1: 6 stitches
Rnd 2: 12 stitches
Rnd 3: 18 stitches
# Stem
Rnd 1: 6 stitches
Rnd 2: 6 stitches
','[[["Cap",1,[["Rnd 1",1,6,6,"c9da95bd6cd5"],["Rnd 2",2,12,12,"52cd834d2770"],["Rnd 3",3,18,18,"6077ef5812fc"]]],["Stem",2,[["Rnd 1",1,6,6,"c9da95bd6cd5"],["Rnd 2",2,7,6,"8bab0636f3c5"]]]],["Stuff the cap.","Sew it on."]]','a85cc67046ab8fc1771fe527');
COMMIT;

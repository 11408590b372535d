PRAGMA application_id = 1919837299;
BEGIN TRANSACTION;
CREATE TABLE entry (
                project INTEGER NOT NULL, number INTEGER NOT NULL, at REAL NOT NULL, body TEXT NOT NULL,
                rounds INTEGER NOT NULL, link TEXT NOT NULL, PRIMARY KEY (project, number)) WITHOUT ROWID;
INSERT INTO "entry" VALUES(1,1,1700000002.0,'{"did":"opened","digest":"763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1"}',0,'ae2f6e489a647d14f41ae0b4');
INSERT INTO "entry" VALUES(1,2,1700000004.0,'{"did":"round"}',1,'f3b005b667588d1d2b74d9c1');
INSERT INTO "entry" VALUES(1,3,1700000005.0,'{"did":"counted","stitches":5,"round_index":0}',1,'00b565718761e9886323dbdc');
INSERT INTO "entry" VALUES(1,4,1700000006.0,'{"did":"together","parts":[{"did":"rewritten","round_index":1,"text":"Rnd 2: inc x 4, 1 sc (9)","before":5},{"did":"cause","cause":"stitch skipped"}]}',1,'167adb5284c06461996d402e');
INSERT INTO "entry" VALUES(1,5,1700000007.0,'{"did":"stitch","count":3}',1,'e8328ce5a7212894ebcbb95e');
INSERT INTO "entry" VALUES(1,6,1700000008.0,'{"did":"closed"}',1,'16e5e5b90ff80f6060314c98');
CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at REAL NOT NULL);
INSERT INTO "migration" VALUES(1,'begin',1700000001.0);
INSERT INTO "migration" VALUES(2,'rounds of the maker''s own, causes, several events together',1700000001.0);
CREATE TABLE project (
                id INTEGER PRIMARY KEY, path TEXT NOT NULL, title TEXT NOT NULL, digest TEXT NOT NULL,
                begun_at REAL NOT NULL, share REAL NOT NULL, next TEXT NOT NULL, finished INTEGER NOT NULL,
                touched_at REAL NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "project" VALUES(1,'/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1',1700000003.0,1.52542372881355942082e-01,'Cap, Rnd 2: 1 more single crochet in the same stitch, then 2 increases',0,1700000008.0,6,'16e5e5b90ff80f6060314c98','34b8c4e9e01d19e9998f1562');
CREATE TABLE saved (
                project INTEGER NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, path TEXT NOT NULL,
                title TEXT NOT NULL, digest TEXT NOT NULL, state TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "saved" VALUES(1,1,'ae2f6e489a647d14f41ae0b4','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000002.0,"work":{"copy":[0,1],"place":[0,0,0],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[]},"past":[]}','dc3fd35d9c17b79676968f2b');
INSERT INTO "saved" VALUES(1,6,'16e5e5b90ff80f6060314c98','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000008.0,"work":{"copy":[0,1],"place":[1,3,3],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1],"own_rounds":[[0,1,1,"Rnd 2: inc x 4, 1 sc (9)",5,0,6]],"causes":["stitch skipped"]},"past":[{"place":[1,0,0]},{"unanswered":[0,1,0,6,6,5],"own_rounds":[0],"causes":[0]},{"unanswered":null},{"place":[0,0,0]}]}','370fefb4769477a147588bb1');
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

PRAGMA application_id = 1919837299;
BEGIN TRANSACTION;
CREATE TABLE entry (
                project INTEGER NOT NULL, number INTEGER NOT NULL, at REAL NOT NULL, body TEXT NOT NULL,
                rounds INTEGER NOT NULL, link TEXT NOT NULL, PRIMARY KEY (project, number)) WITHOUT ROWID;
INSERT INTO "entry" VALUES(1,1,1700000002.0,'{"did":"opened","digest":"77a65f09b08082d6f7be1c074b212c83814b9c1040042c6e2a4fe999d37d8838"}',0,'d85778ab764ee243371b618c');
INSERT INTO "entry" VALUES(1,2,1700000004.0,'{"did":"round"}',1,'55396fccd4b5b0cfdcd7f2b2');
INSERT INTO "entry" VALUES(1,3,1700000005.0,'{"did":"round"}',2,'6c0f30181a0842620d8457f6');
INSERT INTO "entry" VALUES(1,4,1700000006.0,'{"did":"corrected","piece":0,"round_index":2,"text":"Rnd 3: (1 sc, inc) x 6 (18)"}',2,'836cedf7a5566a3ad8ecc7d5');
INSERT INTO "entry" VALUES(1,5,1700000007.0,'{"did":"stitch","count":4}',2,'11814f360c18581cf384bb51');
INSERT INTO "entry" VALUES(1,6,1700000008.0,'{"did":"closed"}',2,'88224e8b8fafdf5ba486f6c2');
INSERT INTO "entry" VALUES(1,7,1700000011.0,'{"did":"opened","digest":"77a65f09b08082d6f7be1c074b212c83814b9c1040042c6e2a4fe999d37d8838"}',2,'6b8799c868235be3b6a0a98b');
INSERT INTO "entry" VALUES(1,8,1700000012.0,'{"did":"together","parts":[{"did":"corrected","piece":0,"round_index":4,"text":"Rnd 5: (1 sc, dec) x 6 (12)"},{"did":"leaves","piece":0,"round_index":3,"stitches":18}]}',2,'213103d3dcda563c25d866e4');
INSERT INTO "entry" VALUES(1,9,1700000013.0,'{"did":"round"}',3,'ca6941642d97a24a48fe95c8');
INSERT INTO "entry" VALUES(1,10,1700000014.0,'{"did":"corrected","piece":0,"round_index":4,"text":""}',3,'42a4c2cc94d0a1a0a7d42a20');
INSERT INTO "entry" VALUES(1,11,1700000015.0,'{"did":"round"}',4,'d87d682e30ecba55569efa84');
INSERT INTO "entry" VALUES(1,12,1700000016.0,'{"did":"stitch","count":2}',4,'9dd58c14499a81670a4816f4');
CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at REAL NOT NULL);
INSERT INTO "migration" VALUES(1,'begin',1700000001.0);
INSERT INTO "migration" VALUES(2,'rounds of the maker''s own, causes, several events together',1700000001.0);
INSERT INTO "migration" VALUES(3,'who it is for and what a ball weighs as events',1700000001.0);
INSERT INTO "migration" VALUES(4,'printed lines that the maker mended',1700000001.0);
CREATE TABLE project (
                id INTEGER PRIMARY KEY, path TEXT NOT NULL, title TEXT NOT NULL, digest TEXT NOT NULL,
                begun_at REAL NOT NULL, share REAL NOT NULL, next TEXT NOT NULL, finished INTEGER NOT NULL,
                touched_at REAL NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "project" VALUES(1,'/patterns/button.toml','Button','77a65f09b08082d6f7be1c074b212c83814b9c1040042c6e2a4fe999d37d8838',1700000003.0,8.29787234042553167867e-01,'Face, Rnd 5: 1 single crochet, then a decrease',0,1700000016.0,12,'9dd58c14499a81670a4816f4','2da274c5cef609298e5c5b82');
CREATE TABLE saved (
                project INTEGER NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, path TEXT NOT NULL,
                title TEXT NOT NULL, digest TEXT NOT NULL, state TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "saved" VALUES(1,1,'d85778ab764ee243371b618c','/patterns/button.toml','Button','77a65f09b08082d6f7be1c074b212c83814b9c1040042c6e2a4fe999d37d8838','{"at":1700000002.0,"work":{"copy":[0,1],"place":[0,0,0],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[],"audience":"","weights":[],"corrections":[],"witnesses":[],"ticked":[],"supposed":[],"part_counts":[]},"past":[]}','a1dba3b0dfaa892e7bf86562');
INSERT INTO "saved" VALUES(1,6,'88224e8b8fafdf5ba486f6c2','/patterns/button.toml','Button','77a65f09b08082d6f7be1c074b212c83814b9c1040042c6e2a4fe999d37d8838','{"at":1700000008.0,"work":{"copy":[0,1],"place":[2,4,4],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[],"audience":"","weights":[],"corrections":[[0,2,"Rnd 3: (1 sc, inc) x 6 (18)",null]],"witnesses":[],"ticked":[],"supposed":[],"part_counts":[]},"past":[{"place":[2,0,0],"count_due":true},{"corrections":[0]},{"place":[1,0,0],"count_due":false},{"place":[0,0,0]}]}','ee96fb5326087badb8e8192a');
CREATE TABLE wording (
                project INTEGER NOT NULL, digest TEXT NOT NULL, source TEXT NOT NULL, outline TEXT NOT NULL,
                seal TEXT NOT NULL);
INSERT INTO "wording" VALUES(1,'77a65f09b08082d6f7be1c074b212c83814b9c1040042c6e2a4fe999d37d8838','title = "Button"
for = "adult"
[[piece]]
name = "Face"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: work the fancy edge
Rnd 5: (1 sc, dec) x 5 (12)
"""
','[[["Face",1,[["Rnd 1",1,6,6,"ae66ed74132f"],["Rnd 2",2,12,12,"a0ba9fe3219b"],["Rnd 3",3,15,15,"d8a0397c8129"],["Rnd 4",4,1,null,"09f2470d27aa"],["Rnd 5",5,10,10,"3923f3f23ed4"]]]],[]]','d2e78ecf685e1ffe323f647e');
COMMIT;

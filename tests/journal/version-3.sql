PRAGMA application_id = 1919837299;
BEGIN TRANSACTION;
CREATE TABLE entry (
                project INTEGER NOT NULL, number INTEGER NOT NULL, at REAL NOT NULL, body TEXT NOT NULL,
                rounds INTEGER NOT NULL, link TEXT NOT NULL, PRIMARY KEY (project, number)) WITHOUT ROWID;
INSERT INTO "entry" VALUES(1,1,1700000002.0,'{"did":"opened","digest":"763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1"}',0,'ae2f6e489a647d14f41ae0b4');
INSERT INTO "entry" VALUES(1,2,1700000004.0,'{"did":"audience","audience":"older child"}',0,'eb6c2eaf3dcdb48a89c34792');
INSERT INTO "entry" VALUES(1,3,1700000005.0,'{"did":"round"}',1,'c523990f7096c8fd4c47bf76');
INSERT INTO "entry" VALUES(1,4,1700000006.0,'{"did":"weighed","yarn":"R","grams":50.0}',1,'1c0901c9740af81f517ed748');
INSERT INTO "entry" VALUES(1,5,1700000007.0,'{"did":"round"}',2,'fbcc83ba0eeda3a6769ae5a2');
INSERT INTO "entry" VALUES(1,6,1700000008.0,'{"did":"remark","text":"the ball of R weighs 9 g"}',2,'a0f546c27219cd6b5b756232');
INSERT INTO "entry" VALUES(1,7,1700000009.0,'{"did":"weighed","yarn":"R","grams":43.5}',2,'60c3f7e001004b3b56d1b316');
INSERT INTO "entry" VALUES(1,8,1700000010.0,'{"did":"round"}',3,'b8354dc2841d93e4d4c44401');
INSERT INTO "entry" VALUES(1,9,1700000011.0,'{"did":"remark","text":"this is for a child under 3"}',3,'e28f135c88e7de808635098b');
INSERT INTO "entry" VALUES(1,10,1700000012.0,'{"did":"closed"}',3,'e0cab2c432c1409c702dcdef');
INSERT INTO "entry" VALUES(1,11,1700000015.0,'{"did":"opened","digest":"763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1"}',3,'b5bb6e1984ae2294582e936b');
INSERT INTO "entry" VALUES(1,12,1700000016.0,'{"did":"audience","audience":"grown-up"}',3,'3ece09deccf726d93ec0bbf2');
INSERT INTO "entry" VALUES(1,13,1700000017.0,'{"did":"weighed","yarn":"","grams":41.0}',3,'35754da63b2eebcc5e6a7075');
INSERT INTO "entry" VALUES(1,14,1700000018.0,'{"did":"stitch","count":2}',3,'a73aea7a407115850bf8874a');
CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at REAL NOT NULL);
INSERT INTO "migration" VALUES(1,'begin',1700000001.0);
INSERT INTO "migration" VALUES(2,'rounds of the maker''s own, causes, several events together',1700000001.0);
INSERT INTO "migration" VALUES(3,'who it is for and what a ball weighs as events',1700000001.0);
CREATE TABLE project (
                id INTEGER PRIMARY KEY, path TEXT NOT NULL, title TEXT NOT NULL, digest TEXT NOT NULL,
                begun_at REAL NOT NULL, share REAL NOT NULL, next TEXT NOT NULL, finished INTEGER NOT NULL,
                touched_at REAL NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "project" VALUES(1,'/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1',1700000003.0,6.12903225806451623647e-01,'Stem 1 of 2, Rnd 1: 4 single crochet in the magic ring',0,1700000018.0,14,'a73aea7a407115850bf8874a','6bbdc952199a17833a92b4a4');
CREATE TABLE saved (
                project INTEGER NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, path TEXT NOT NULL,
                title TEXT NOT NULL, digest TEXT NOT NULL, state TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "saved" VALUES(1,1,'ae2f6e489a647d14f41ae0b4','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000002.0,"work":{"copy":[0,1],"place":[0,0,0],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[],"audience":"","weights":[]},"past":[]}','19a40c76facb3f4ec08a92b4');
INSERT INTO "saved" VALUES(1,10,'e0cab2c432c1409c702dcdef','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000012.0,"work":{"copy":[1,1],"place":[0,0,0],"parked":[[0,1,3,0,0]],"ended":[0,1],"count_due":true,"unanswered":null,"miscounts":[],"notes":[[0,1,2,0,"the ball of R weighs 9 g",1700000008.0],[1,1,0,0,"this is for a child under 3",1700000011.0]],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[],"audience":"older child","weights":[["R",50.0,1700000006.0],["R",43.5,1700000009.0]]},"past":[{"notes":[1]},{"copy":[0,1],"place":[2,0,0],"parked":[0],"ended":null},{"weights":[1]},{"notes":[0]},{"place":[1,0,0],"count_due":false},{"weights":[0]},{"place":[0,0,0]},{"audience":""}]}','eecedcacfe65c2de8be65f44');
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

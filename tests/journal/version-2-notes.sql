PRAGMA application_id = 1919837299;
BEGIN TRANSACTION;
CREATE TABLE entry (
                project INTEGER NOT NULL, number INTEGER NOT NULL, at REAL NOT NULL, body TEXT NOT NULL,
                rounds INTEGER NOT NULL, link TEXT NOT NULL, PRIMARY KEY (project, number)) WITHOUT ROWID;
INSERT INTO "entry" VALUES(1,1,1700000002.0,'{"did":"opened","digest":"763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1"}',0,'ae2f6e489a647d14f41ae0b4');
INSERT INTO "entry" VALUES(1,2,1700000004.0,'{"did":"note","text":"this is for an older child"}',0,'db086b3ac666b691ebd5a1cc');
INSERT INTO "entry" VALUES(1,3,1700000005.0,'{"did":"round"}',1,'62165a0ae2c3dbb4fc012405');
INSERT INTO "entry" VALUES(1,4,1700000006.0,'{"did":"note","text":"the ball of R weighs 50 g"}',1,'3d80073073318a5887d70259');
INSERT INTO "entry" VALUES(1,5,1700000007.0,'{"did":"round"}',2,'dcacd4f0cb9590e88b2db914');
INSERT INTO "entry" VALUES(1,6,1700000008.0,'{"did":"note","text":"tight here"}',2,'50be7b136b74e0767a8583e1');
INSERT INTO "entry" VALUES(1,7,1700000009.0,'{"did":"undo"}',2,'c367e7e2c20c03a7dd09aa11');
INSERT INTO "entry" VALUES(1,8,1700000010.0,'{"did":"note","text":"tight there"}',2,'4e8a4306c3fc8569698bf614');
INSERT INTO "entry" VALUES(1,9,1700000011.0,'{"did":"note","text":"the ball of R weighs 43.5 g"}',2,'8b60332276ed184fe75dc7d9');
INSERT INTO "entry" VALUES(1,10,1700000012.0,'{"did":"round"}',3,'eab9617c3c987f906f7811d5');
INSERT INTO "entry" VALUES(1,11,1700000013.0,'{"did":"note","text":"this is for a child under 3"}',3,'731d631ca84dc0da4a289893');
INSERT INTO "entry" VALUES(1,12,1700000014.0,'{"did":"closed"}',3,'ff717e4e0e13cad8fccd84c1');
INSERT INTO "entry" VALUES(1,13,1700000017.0,'{"did":"opened","digest":"763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1"}',3,'3f1003261ab6b641999e7f44');
INSERT INTO "entry" VALUES(1,14,1700000018.0,'{"did":"undo"}',3,'6eab7c94eb06cf08ce88cc22');
INSERT INTO "entry" VALUES(1,15,1700000019.0,'{"did":"note","text":"the ball weighs 41 g"}',3,'e4cc87b6b8007f88b1636fc9');
INSERT INTO "entry" VALUES(1,16,1700000020.0,'{"did":"note","text":"the ball of R weighs 90000 g"}',3,'8bbb06ea7d84b13ae1e9ff41');
INSERT INTO "entry" VALUES(1,17,1700000021.0,'{"did":"stitch","count":2}',3,'a246907628ad1529d958e920');
CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at REAL NOT NULL);
INSERT INTO "migration" VALUES(1,'begin',1700000001.0);
INSERT INTO "migration" VALUES(2,'rounds of the maker''s own, causes, several events together',1700000001.0);
CREATE TABLE project (
                id INTEGER PRIMARY KEY, path TEXT NOT NULL, title TEXT NOT NULL, digest TEXT NOT NULL,
                begun_at REAL NOT NULL, share REAL NOT NULL, next TEXT NOT NULL, finished INTEGER NOT NULL,
                touched_at REAL NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "project" VALUES(1,'/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1',1700000003.0,6.12903225806451623647e-01,'Stem 1 of 2, Rnd 1: 4 single crochet in the magic ring',0,1700000021.0,17,'a246907628ad1529d958e920','03632d750c4cb9f6a48c451c');
CREATE TABLE saved (
                project INTEGER NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, path TEXT NOT NULL,
                title TEXT NOT NULL, digest TEXT NOT NULL, state TEXT NOT NULL, seal TEXT NOT NULL);
INSERT INTO "saved" VALUES(1,1,'ae2f6e489a647d14f41ae0b4','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000002.0,"work":{"copy":[0,1],"place":[0,0,0],"parked":[],"ended":null,"count_due":false,"unanswered":null,"miscounts":[],"notes":[],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[]},"past":[]}','dc3fd35d9c17b79676968f2b');
INSERT INTO "saved" VALUES(1,12,'ff717e4e0e13cad8fccd84c1','/patterns/toadstool.toml','Toadstool','763345ccc1952f0f7196ca8a1ddeb8014a35ff1defea00970c1af6582648a9d1','{"at":1700000014.0,"work":{"copy":[1,1],"place":[0,0,0],"parked":[[0,1,3,0,0]],"ended":[0,1],"count_due":true,"unanswered":null,"miscounts":[],"notes":[[0,1,0,0,"this is for an older child",1700000004.0],[0,1,1,0,"the ball of R weighs 50 g",1700000006.0],[0,1,2,0,"tight there",1700000010.0],[0,1,2,0,"the ball of R weighs 43.5 g",1700000011.0],[1,1,0,0,"this is for a child under 3",1700000013.0]],"steps_done":[],"asks":["change",1],"own_rounds":[],"causes":[]},"past":[{"notes":[4]},{"copy":[0,1],"place":[2,0,0],"parked":[0],"ended":null},{"notes":[3]},{"notes":[2]},{"place":[1,0,0],"count_due":false},{"notes":[1]},{"place":[0,0,0]},{"notes":[0]}]}','9c08a5c170a615f9685920be');
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

BEGIN TRANSACTION;
CREATE TABLE batches (
                id INTEGER PRIMARY KEY AUTOINCREMENT,
                path TEXT,
                title TEXT NOT NULL,
                project TEXT NOT NULL,
                plan TEXT NOT NULL,
                makeable INTEGER NOT NULL,
                created TEXT NOT NULL
            );
INSERT INTO "batches" VALUES(1,'/home/wren/one_card_from_scraps.toml','A birthday card for Aunt Wren','title = "A birthday card for Aunt Wren"
units = "in"

[card]
size = [5, 5]
fold = "side"
paper = "oat card"
count = 1

[[papers]]
name = "oat card"
kind = "cardstock"
size = ["8 1/2", 11]
sheets = 0
colours = ["#e3d5b8"]
weight = "80 lb cover"

[[papers]]
name = "clover check"
kind = "patterned"
size = [6, 6]
sheets = 1
print = "check"
colours = ["#4f8a5b", "#eef5e6"]

[[papers]]
name = "plum stripe"
kind = "patterned"
size = [12, 12]
sheets = 0
print = "stripe"
colours = ["#6d3b5e", "#f2e3ea"]
run = "along"

[[papers]]
name = "dove vellum"
kind = "vellum"
size = ["8 1/2", 11]
sheets = 0
colours = ["#dfe3e8"]

[[offcuts]]
paper = "oat card"
size = ["5 1/2", 11]

[[offcuts]]
paper = "oat card"
size = [3, "2 1/4"]

[[offcuts]]
paper = "plum stripe"
size = ["7 1/4", "2 1/2"]

[[offcuts]]
paper = "dove vellum"
size = ["4 1/4", "5 1/2"]
count = 2

[[pieces]]
name = "panel"
size = ["4 3/4", "4 3/4"]
from = ["clover check"]

[[pieces]]
name = "veil"
size = [4, "3 1/4"]
from = ["dove vellum"]
place = { x = "centre", y = "3/4" }
round = { corners = ["top left", "top right"], radius = "1/4" }
on = "panel"

[[pieces]]
name = "band"
size = ["4 3/4", "1 1/4"]
from = ["clover check", "plum stripe"]
place = { x = "left", y = "1 1/4" }
on = "panel"

[[pieces]]
name = "label"
size = ["2 1/2", 1]
from = ["oat card"]
place = { x = "1/2", y = "centre" }
on = "band"
','{"format": 1, "title": "A birthday card for Aunt Wren", "cards": 1, "totals": {"sheets": 1, "fewest_possible": 1, "proven": true, "cuts": 9, "marks": 7, "seconds": 0.09}, "groups": [{"papers": ["oat card"], "sheets": 0, "fewest_possible": 0, "proven": true}, {"papers": ["clover check", "plum stripe"], "sheets": 1, "fewest_possible": 1, "proven": true}, {"papers": ["dove vellum"], "sheets": 0, "fewest_possible": 0, "proven": true}], "shortages": [], "sheets": [{"id": "S1", "paper": "clover check", "width": "6 in", "height": "6 in", "parts": [{"id": "S1.1.1", "role": "scrap", "piece": null, "x": "0 in", "y": "0 in", "width": "19/4 in", "height": "5/4 in", "turned": false}, {"id": "S1.1.2", "role": "piece", "piece": "panel", "x": "0 in", "y": "5/4 in", "width": "19/4 in", "height": "19/4 in", "turned": false}, {"id": "S1.2", "role": "offcut", "piece": null, "x": "19/4 in", "y": "0 in", "width": "5/4 in", "height": "6 in", "turned": false}]}, {"id": "O1", "paper": "oat card", "width": "11/2 in", "height": "11 in", "parts": [{"id": "O1.1.1", "role": "piece", "piece": "label", "x": "0 in", "y": "0 in", "width": "5/2 in", "height": "1 in", "turned": false}, {"id": "O1.1.2", "role": "scrap", "piece": null, "x": "5/2 in", "y": "0 in", "width": "3 in", "height": "1 in", "turned": false}, {"id": "O1.2.1", "role": "piece", "piece": "card base", "x": "0 in", "y": "1 in", "width": "5 in", "height": "10 in", "turned": true}, {"id": "O1.2.2", "role": "scrap", "piece": null, "x": "5 in", "y": "1 in", "width": "1/2 in", "height": "10 in", "turned": false}]}, {"id": "O2", "paper": "plum stripe", "width": "29/4 in", "height": "5/2 in", "parts": [{"id": "O2.1.1", "role": "scrap", "piece": null, "x": "0 in", "y": "0 in", "width": "19/4 in", "height": "5/4 in", "turned": false}, {"id": "O2.1.2", "role": "piece", "piece": "band", "x": "0 in", "y": "5/4 in", "width": "19/4 in", "height": "5/4 in", "turned": false}, {"id": "O2.2", "role": "offcut", "piece": null, "x": "19/4 in", "y": "0 in", "width": "5/2 in", "height": "5/2 in", "turned": false}]}, {"id": "O3", "paper": "dove vellum", "width": "17/4 in", "height": "11/2 in", "parts": [{"id": "O3.1.1", "role": "piece", "piece": "veil", "x": "0 in", "y": "0 in", "width": "4 in", "height": "13/4 in", "turned": false}, {"id": "O3.1.2", "role": "scrap", "piece": null, "x": "4 in", "y": "0 in", "width": "1/4 in", "height": "13/4 in", "turned": false}, {"id": "O3.2", "role": "offcut", "piece": null, "x": "0 in", "y": "13/4 in", "width": "17/4 in", "height": "9/4 in", "turned": false}]}], "steps": [{"n": 1, "do": "cut", "takes": ["S1"], "measure": "width", "mark": "19/4 in", "gives": [["S1.1", "S1.2"]]}, {"n": 2, "do": "cut", "takes": ["O2"], "measure": "width", "mark": "19/4 in", "gives": [["O2.1", "O2.2"]]}, {"n": 3, "do": "cut", "takes": ["O3"], "measure": "height", "mark": "13/4 in", "gives": [["O3.1", "O3.2"]]}, {"n": 4, "do": "cut", "takes": ["O3.1"], "measure": "width", "mark": "4 in", "gives": [["O3.1.1", "O3.1.2"]]}, {"n": 5, "do": "cut", "takes": ["S1.1"], "measure": "height", "mark": "5/4 in", "gives": [["S1.1.1", "S1.1.2"]]}, {"n": 6, "do": "cut", "takes": ["O2.1"], "measure": "height", "mark": "5/4 in", "gives": [["O2.1.1", "O2.1.2"]]}, {"n": 7, "do": "cut", "takes": ["O1"], "measure": "height", "mark": "1 in", "gives": [["O1.1", "O1.2"]]}, {"n": 8, "do": "cut", "takes": ["O1.2"], "measure": "width", "mark": "5 in", "gives": [["O1.2.1", "O1.2.2"]]}, {"n": 9, "do": "cut", "takes": ["O1.1"], "measure": "width", "mark": "5/2 in", "gives": [["O1.1.1", "O1.1.2"]]}, {"n": 10, "do": "score", "takes": ["O1.2.1"], "measure": "width", "mark": "5 in", "gives": []}, {"n": 11, "do": "fold", "takes": ["O1.2.1"], "measure": null, "mark": null, "gives": []}, {"n": 12, "do": "round", "takes": ["O3.1.1"], "measure": null, "mark": null, "gives": []}, {"n": 13, "do": "assemble", "takes": ["O1.2.1", "S1.1.2", "O3.1.1", "O2.1.2", "O1.1.1"], "measure": null, "mark": null, "gives": [], "card": 1}], "combinations": [{"card": 1, "pieces": {"panel": "clover check", "veil": "dove vellum", "band": "plum stripe", "label": "oat card"}}]}',1,'2026-11-28T03:41:54.334650+00:00');
CREATE TABLE events (
                batch INTEGER NOT NULL REFERENCES batches (id),
                seq INTEGER NOT NULL,
                what TEXT NOT NULL,
                step INTEGER NOT NULL,
                at TEXT NOT NULL,
                UNIQUE (batch, seq)
            );
INSERT INTO "events" VALUES(1,1,'ticked',1,'2026-05-01T12:00:20+00:00');
INSERT INTO "events" VALUES(1,2,'ticked',2,'2026-05-01T12:00:40+00:00');
INSERT INTO "events" VALUES(1,3,'ticked',3,'2026-05-01T12:01:00+00:00');
INSERT INTO "events" VALUES(1,4,'ticked',4,'2026-05-01T12:01:20+00:00');
INSERT INTO "events" VALUES(1,5,'ticked',5,'2026-05-01T12:01:40+00:00');
INSERT INTO "events" VALUES(1,6,'taken back',5,'2026-05-01T12:09:00+00:00');
CREATE TABLE migrations (
    name TEXT PRIMARY KEY, applied TEXT NOT NULL DEFAULT CURRENT_TIMESTAMP
);
INSERT INTO "migrations" VALUES('recent projects, settings, batches and their events','2026-11-28 03:41:54');
CREATE TABLE recent (
                path TEXT PRIMARY KEY, title TEXT NOT NULL, opened TEXT NOT NULL
            );
INSERT INTO "recent" VALUES('/home/wren/one_card_from_scraps.toml','A birthday card for Aunt Wren','2026-11-28T03:41:54.343361+00:00');
CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('batches',1);
COMMIT;

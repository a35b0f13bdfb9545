"""Every attack by its name, with its share of the minutes."""

from tests.attack import drops, files, kills, names, workshops
from tests.attack.attack import Attack

ATTACKS = {
    attack.name: attack
    for attack in (
        Attack("files", files.strange_file, 4),
        Attack("names", names.hostile_names, 2),
        Attack("bench", kills.at_the_bench, 2),
        Attack("save", kills.while_saving),
        Attack("migration", kills.while_migrating),
        Attack("drawer", kills.in_the_drawer),
        Attack("drops", drops.browser_drops, 2),
        Attack("windows", workshops.two_windows),
        Attack("disk", workshops.full_disk),
        Attack("clock", workshops.clock_set_back),
        Attack("databases", workshops.damaged_database, 2),
    )
}

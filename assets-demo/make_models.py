#!/usr/bin/env python3
"""Makes every model of the demo scene from nothing: python3 assets-demo/make_models.py

Needs Python 3 alone; the same files come out every time. Names after the command make only those.
"""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE / "making"))

import air  # noqa: E402
import boat  # noqa: E402
import creatures  # noqa: E402
import gear  # noqa: E402
import ground  # noqa: E402
import leaves  # noqa: E402
import music  # noqa: E402
import pots  # noqa: E402
import pump  # noqa: E402
import seats  # noqa: E402
import signs  # noqa: E402
import table  # noqa: E402
from gltf_out import glb_bytes, gltf_files  # noqa: E402

GLB = {
    "boat": boat.nodes,
    "pump": pump.nodes,
    "notice-board": signs.notice_board,
    "hut-sign": lambda: signs.lettered("hut-sign", 78.0, 13.0, "FERRY TICKETS", 0.46,
                                       (58, 84, 92), (228, 218, 190), 111),
    "stall-sign": lambda: signs.lettered("stall-sign", 40.0, 12.0, "TEA", 0.58,
                                         (126, 58, 46), (236, 222, 190), 113),
    "banner": lambda: signs.lettered("banner", 160.0, 22.0, "LOW WATER", 0.56,
                                     (216, 208, 188), (62, 88, 98), 115),
    "ground-a": lambda: ground.nodes(0, 0),
    "ground-b": lambda: ground.nodes(1, 0),
    "ground-c": lambda: ground.nodes(0, 1),
    "ground-d": lambda: ground.nodes(1, 1),
    "hedge": lambda: leaves.hedge(104.0, 15.0, 102.0, 301),
    "hedge-low": lambda: leaves.hedge(32.0, 15.0, 70.0, 303),
    "flower-tub": lambda: leaves.flower_tub(boat.bare_wood(31, (150, 120, 84))),
    "mist": air.mist,
    "bench": lambda: seats.bench(boat.bare_wood(32, (156, 128, 90))),
    "anchor": gear.anchor,
    "lifebuoy": gear.lifebuoy,
    "rope-in-hand": gear.rope_in_hand,
    "handcart": lambda: gear.handcart(boat.bare_wood(33, (140, 112, 80))),
    "squeezebox": music.squeezebox,
    "gull": creatures.gull,
    "crab": creatures.crab,
    "fish-box": lambda: creatures.fish_box(boat.bare_wood(34, (150, 126, 92))),
    "teapot": table.teapot,
    "basket": table.basket,
    "back-cloth-west": lambda: signs.back_cloth(0),
    "back-cloth-east": lambda: signs.back_cloth(1),
}
GLTF = {"crab-pots": lambda: pots.nodes(boat.bare_wood(30, (138, 118, 92)))}


def main():
    wanted = set(sys.argv[1:])
    unknown = wanted - GLB.keys() - GLTF.keys()
    if unknown:
        sys.exit("no such model: " + ", ".join(sorted(unknown)))
    files = {}
    for name, make in GLB.items():
        if not wanted or name in wanted:
            files[name + ".glb"] = glb_bytes(make())
    for name, make in GLTF.items():
        if not wanted or name in wanted:
            files.update(gltf_files(name, make()))
    folder = HERE / "models"
    folder.mkdir(exist_ok=True)
    for name, data in files.items():
        (folder / name).write_bytes(data)
        print(f"{name}: {len(data)} bytes")


if __name__ == "__main__":
    main()

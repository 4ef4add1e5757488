"""Makes the invented pictures and spoken notes of the demo workshop: nothing here was photographed or said by anybody.

Run it from the top of the project with numpy, Pillow and PyAV at hand, and espeak-ng, sox and flite for the sound:

    python sample_media/make.py

The files it makes are committed, so the demo needs neither. Same seed, same picture. A few are as large as a
phone's (12 million pixels), the others smaller, so that the demo stays light.
"""

from __future__ import annotations

import sys
from pathlib import Path

import bottom_end as bottom
import top_end as top
import voices
from PIL import Image, TiffImagePlugin

HERE = Path(__file__).resolve().parent
PICTURES, SOUNDS = HERE / "pictures", HERE / "sounds"
SMALL, PHONE = 1600, 4032


def pictures() -> dict:
    """File name -> how to make it. `l_` the launch engine, `v_` the van's, `t_` the trials car's."""
    made = {
        "l_number.jpg": lambda: bottom.number_pad(101, "C22-18844", SMALL),
        "l_hours.jpg": lambda: top.panel(102, "2 310 h", True, SMALL),
        "l_strainer.jpg": lambda: bottom.strainer(103, 0.9, PHONE),
        "l_strainer_clean.jpg": lambda: bottom.strainer(104, 0.1, SMALL),
        "l_filter.jpg": lambda: bottom.swarf(105, 350, SMALL),
        "l_sump_bolt.jpg": lambda: top.bolt(106, True, SMALL),
        "l_head_bolt.jpg": lambda: top.bolt(107, False, SMALL),
        "l_timing.jpg": lambda: top.gears(108, 0, SMALL),
        "l_gasket.jpg": lambda: top.deck(109, burnt=True, width=SMALL),
        "l_deck_crack.jpg": lambda: top.deck(110, crack=True, width=PHONE),
        "l_straight_edge.jpg": lambda: top.deck(111, rule=True, width=SMALL),
        "l_straight_edge_2.jpg": lambda: top.deck(112, rule=True, width=SMALL),
        "l_core_plug.jpg": lambda: top.core_plug(113, SMALL),
        "l_lobe_3.jpg": lambda: top.lobe(114, True, SMALL),
        "l_lobe_1.jpg": lambda: top.lobe(115, False, SMALL),
        "l_ring_3.jpg": lambda: bottom.ring_pieces(116, 4, SMALL),
        "l_caps_3.jpg": lambda: bottom.rod_cap(117, 3, 3, SMALL),
        "l_gauge_2.jpg": lambda: top.plastic_gauge(118, SMALL),
        "l_gauge_3.jpg": lambda: top.plastic_gauge(119, SMALL),
        "l_released_bolt.jpg": lambda: top.bolt(120, False, SMALL),
        "l_released_hours.jpg": lambda: top.panel(121, "2 311 h", False, SMALL),
        "v_number.jpg": lambda: bottom.number_pad(201, "29-00731", SMALL),
        "v_panel.jpg": lambda: top.panel(202, "148 206", True, SMALL),
        "v_filter.jpg": lambda: bottom.swarf(203, 600, PHONE),
        "v_gasket_a.jpg": lambda: top.deck(204, burnt=True, width=SMALL),
        "v_piston_3.jpg": lambda: bottom.piston(205, True, False, SMALL),
        "v_caps_3.jpg": lambda: bottom.rod_cap(206, 3, 2, SMALL),
        "v_pin_2.jpg": lambda: bottom.crankpin(207, 6, 1.0, PHONE),
        "v_shell_3_upper.jpg": lambda: bottom.shell(208, 1.1, width=SMALL),
        "v_shell_3_lower.jpg": lambda: bottom.shell(209, 0.8, width=SMALL),
        "v_shell_1_upper.jpg": lambda: bottom.shell(210, width=SMALL),
        "v_bore_3_thrust.jpg": lambda: bottom.bore(211, 11, width=SMALL),
        "v_bore_3_axial.jpg": lambda: bottom.bore(212, 2, width=SMALL),
        "v_main_4.jpg": lambda: bottom.crankpin(213, 2, width=SMALL),
        "t_number.jpg": lambda: bottom.number_pad(301, "BF4-7710", SMALL),
        "t_built_gauge.jpg": lambda: top.plastic_gauge(302, SMALL),
        "t_released_bolt.jpg": lambda: top.bolt(303, False, SMALL),
        "t_returned_bolt.jpg": lambda: top.bolt(304, True, SMALL),
        "t_panel.jpg": lambda: top.panel(305, "61 020", False, SMALL),
        "t_shell_2.jpg": lambda: bottom.shell(306, 0.2, 45, width=SMALL),
    }
    for number in (1, 2, 3, 4):
        hurt = number == 3
        made |= {
            f"l_bore_{number}_thrust.jpg": lambda n=number, h=hurt: bottom.bore(
                120 + n, 12 if h else 0, width=PHONE if h else SMALL
            ),
            f"l_bore_{number}_axial.jpg": lambda n=number, h=hurt: bottom.bore(130 + n, 3 if h else 0, width=SMALL),
            f"l_piston_{number}.jpg": lambda n=number, h=hurt: bottom.piston(140 + n, False, h, SMALL),
            f"l_pin_{number}.jpg": lambda n=number, h=hurt: bottom.crankpin(
                150 + n, 5 if h else 1, 0.9 if h else 0, SMALL
            ),
            f"l_shell_{number}.jpg": lambda n=number, h=hurt: bottom.shell(
                160 + n, 0.9 if h else 0, 40 if n == 2 else 0, width=SMALL
            ),
            f"l_valve_{number}.jpg": lambda n=number: top.valve(170 + n, n == 2, SMALL),
        }
    return made


def exif(number: int) -> Image.Exif:
    """Facts a phone writes into a picture, a place far out at sea among them, so that stripping them can be seen."""
    taken = f"2026:05:13 {9 + number // 60:02d}:{number % 60:02d}:00"
    data = Image.Exif()
    data[0x010F], data[0x0110], data[0x0112], data[0x0132] = "Invented", "demo camera", 1, taken
    details = data.get_ifd(0x8769)
    details[0x9003], details[0x9011] = taken, "+01:00"
    ratio = TiffImagePlugin.IFDRational
    place = data.get_ifd(0x8825)
    place[1], place[2] = "N", (ratio(40), ratio(0), ratio(0))
    place[3], place[4] = "W", (ratio(40), ratio(0), ratio(0))
    return data


def main(only: list[str]) -> None:
    for number, (name, make) in enumerate(pictures().items()):
        if not only or name in only:
            picture = make()
            quality = 72 if picture.width == PHONE else 76
            picture.save(
                PICTURES / name, quality=quality, optimize=True, exif=exif(number), comment=b"invented, demo workshop"
            )
            print(name, (PICTURES / name).stat().st_size)
    for name, words in voices.NOTES.items():
        if not only or name in only:
            voices.note(SOUNDS / name, words)
    for seed, (name, (voice, words)) in enumerate(voices.SAID.items()):
        if not only or name in only:
            voices.said(SOUNDS / name, voice, words, seed)
            print(name, (SOUNDS / name).stat().st_size)


if __name__ == "__main__":
    main(sys.argv[1:])

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.errors import BadSetting
from catalogue.ledger import Ledger, refuse_unsafe, restore

MOUNTS = r"""
proc /proc proc rw 0 0
/dev/sda1 / ext4 rw 0 0
tower:/pictures /mnt/tower nfs4 rw 0 0
//box/share /mnt/the\040share cifs rw 0 0
me@far: /home/me/far fuse.sshfs rw 0 0
/dev/sdb1 /mnt/tower/own ext4 rw 0 0
C:\134 /mnt/c 9p rw 0 0
tower:/late /srv ext4 rw 0 0
tower:/late /srv nfs rw 0 0
odd
"""


@pytest.mark.parametrize(
    "folder",
    ["/mnt/tower", "/mnt/tower/studio/new", "/mnt/the share/studio", "/home/me/far/x", "/mnt/c/s",
     "/srv/studio"],
)  # fmt: skip
def test_a_folder_on_the_network_is_refused_with_the_remedy(folder):
    with pytest.raises(BadSetting, match="network") as refused:
        refuse_unsafe(Path(folder), MOUNTS)
    assert "backup" in refused.value.remedy


@pytest.mark.parametrize(
    "folder", ["/home/me/studio", "/mnt/tower/own/studio", "/mnt/towering"]
)
def test_a_folder_on_an_own_disk_is_not(folder):
    refuse_unsafe(Path(folder), MOUNTS)


@pytest.mark.parametrize("marker", [".dropbox", ".stfolder", ".sync_0a1b.db", ".sync/ID"])
def test_a_folder_that_a_program_copies_is_refused(tmp_path, marker):
    (tmp_path / marker).parent.mkdir(exist_ok=True)
    (tmp_path / marker).touch()
    folder = tmp_path / "pictures" / "studio"
    for make in (Ledger.create, lambda folder: restore(tmp_path / "copy.tar", folder)):
        with pytest.raises(BadSetting, match="syncing"):
            make(folder)
    assert not folder.exists()


@pytest.mark.parametrize("name", ["OneDrive", "OneDrive - Studio", "com~apple~CloudDocs"])
def test_a_folder_with_such_a_name_above_it_is_refused(tmp_path, name):
    with pytest.raises(BadSetting, match="syncing"):
        refuse_unsafe(tmp_path / name / "studio", "")


def test_a_link_does_not_hide_where_a_folder_lies(tmp_path):
    (tmp_path / "synced" / "studio").mkdir(parents=True)
    (tmp_path / "synced" / ".stfolder").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "synced" / "studio")
    with pytest.raises(BadSetting, match="syncing"):
        Ledger.create(tmp_path / "link")

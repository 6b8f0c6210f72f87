using ShopFloor.Documents.Imaging;

namespace ShopFloor.Documents.Tests.Imaging;

/// <summary>Counts what the whole process allocates, so nothing else may run beside it: other tests' memory would be counted too.</summary>
[CollectionDefinition(nameof(PictureDoorMemoryTests), DisableParallelization = true)]
[Collection(nameof(PictureDoorMemoryTests))]
public sealed class PictureDoorMemoryTests
{
    private const int Goes = 10;

    [Fact]
    public async Task Admit_BombByHead_AllocatesNextToNothing()
    {
        using var door = new PictureDoor();
        var bomb = TestPictures.PngClaiming(100_000, 100_000);
        await door.AdmitAsync(bomb, "a.png", CancellationToken.None);

        // What the runtime does meanwhile only adds, so the least of several goes is the door's own.
        var least = long.MaxValue;
        for (var go = 0; go < Goes; go++)
        {
            var before = GC.GetTotalAllocatedBytes(precise: true);
            await door.AdmitAsync(bomb, "a.png", CancellationToken.None);
            least = Math.Min(least, GC.GetTotalAllocatedBytes(precise: true) - before);
        }

        Assert.InRange(least, 0, 1_000_000);
    }
}

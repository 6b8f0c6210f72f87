using System.Diagnostics;
using System.Runtime.InteropServices;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Documents;
using SkiaSharp;

namespace ShopFloor.Benchmarks;

/// <summary>Print sheets: how near the nesting comes to its bound, and what a long run with large pictures costs.</summary>
internal static class SheetsCommand
{
    private const int Sessions = 8;
    private const int PictureFiles = 10;
    private static readonly PrinterFacts Printer = new("bench", InsetsMm.All(5));
    private static readonly RunLabel Label = new("Benchmark", "P-0", "", DateTime.UnixEpoch);

    public static int Run(Arguments args)
    {
        Nesting((int)args.Number("transfers", 100), (int)args.Number("seed", 1));
        LongRun((int)args.Number("pages", 200));
        return 0;
    }

    private static void Nesting(int count, int seed)
    {
        var random = new Random(seed);
        var transfers = Enumerable.Range(0, count).Select(i => Sample(i, random)).ToList();
        foreach (var papers in new[] { new[] { "A4" }, ["A3"], ["A4", "A3"] })
        {
            var watch = Stopwatch.StartNew();
            var request = new PrintRequest(Printer, [.. papers.Select(PaperStock.Iso)]);
            var run = new PrintRunPlanner(PlannerNest.Run).Plan(transfers, request).Value;
            Console.WriteLine(
                $"{count} transfers on {string.Join('/', papers)}: {run.Sheets.Count} sheets in {watch.Elapsed.TotalSeconds:0.0} s"
            );
            foreach (var use in run.Use)
                Console.WriteLine(
                    $"  {use.Group} {use.Paper}: {use.Transfers} transfers, {use.Sheets} sheets, at least {use.FewestPossible}, {use.Utilisation:P0} used"
                );
        }
    }

    private static Transfer Sample(int i, Random random)
    {
        var shapes = new[] { FaceShape.Rectangle, FaceShape.RoundedRectangle, FaceShape.Disc, FaceShape.Ellipse };
        var face = new FaceOutline(shapes[random.Next(shapes.Length)], random.Next(30, 150), random.Next(30, 180), 4);
        return new Transfer($"P{i:D3}", "", face, 2, Finish.WhiteGround)
        {
            Group = $"S-{i % Sessions + 1}",
            Texts = [new TransferText("x", TextStyle.Body, new PointMm(5, 10))],
        };
    }

    private static void LongRun(int pages)
    {
        var folder = Directory.CreateTempSubdirectory("shopfloor-sheets-");
        try
        {
            // Making the pictures takes memory too: so the working set is told before and during.
            var files = Enumerable.Range(0, PictureFiles).Select(i => WritePhoto(folder.FullName, i)).ToList();
            GC.Collect();
            var before = Process.GetCurrentProcess().WorkingSet64;
            using var sampler = new PeakSampler();
            var watch = Stopwatch.StartNew();
            var head = new PictureDoor().Head(File.ReadAllBytes(files[0])).Value;
            var toFace = new PlaneTransform(180.0 / head.WidthPx, 0, 0, 0, 135.0 / head.HeightPx, 0);
            var transfers = Enumerable
                .Range(0, pages)
                .Select(i => Large(i, PrintPicture.Of(head, () => File.ReadAllBytes(files[i % files.Count])), toFace));
            var run = new PrintRunPlanner(OneEach).Plan([.. transfers], new PrintRequest(Printer, [PaperStock.Iso("A4")])).Value;
            var path = Path.Combine(folder.FullName, "run.pdf");
            long bytes;
            using (var target = File.Create(path))
            {
                PrintSheets.Draw(run, Label).SaveTo(target);
                bytes = target.Length;
            }
            File.Delete(path);
            Console.WriteLine(
                $"{run.Sheets.Count} pages, each with a picture of its own of {head.Pixels / 1e6:0.0} million pixels: "
                    + $"{watch.Elapsed.TotalSeconds:0.0} s, file {bytes / 1e6:0} MB, "
                    + $"working set {before / 1e6:0} MB before, at most {sampler.Peak / 1e6:0} MB during"
            );
            SheetsOverHttp.RunAsync(pages, files).GetAwaiter().GetResult();
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static Nesting OneEach(IReadOnlyList<SizeMm> boxes, SizeMm area, double gapMm) =>
        new([.. boxes.Select((_, i) => new NestedBox(i, i, 0, 0, Turned: false))], boxes.Count, boxes.Count);

    private static Transfer Large(int i, PdfPicture picture, PlaneTransform toFace) =>
        new($"P{i:D3}", "", new FaceOutline(FaceShape.Rectangle, 180, 135), 0, Finish.WhiteGround)
        {
            Picture = new TransferPicture(picture, toFace),
        };

    /// <summary>4000 × 3000 pixels of smooth light with grain, as JPEG.</summary>
    private static string WritePhoto(string folder, int seed)
    {
        const int width = 4000;
        const int height = 3000;
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        var row = new byte[width * 4];
        var random = new Random(seed);
        for (var y = 0; y < height; y++)
        {
            random.NextBytes(row);
            for (var x = 0; x < row.Length; x++)
                row[x] = (byte)(x * 200 / row.Length + (row[x] >> 3) + y * 30 / height);
            Marshal.Copy(row, 0, bitmap.GetPixels() + y * bitmap.RowBytes, row.Length);
        }
        var path = Path.Combine(folder, $"photo-{seed}.jpg");
        using var data = bitmap.Encode(SKEncodedImageFormat.Jpeg, 93);
        File.WriteAllBytes(path, data.ToArray());
        return path;
    }

    /// <summary>Looks at the working set every 20 ms.</summary>
    private sealed class PeakSampler : IDisposable
    {
        private readonly Timer timer;
        private long peak;

        public PeakSampler() => timer = new Timer(_ => Look(), null, 0, 20);

        public long Peak => Interlocked.Read(ref peak);

        public void Dispose() => timer.Dispose();

        private void Look()
        {
            using var process = Process.GetCurrentProcess();
            if (process.WorkingSet64 > Peak)
                Interlocked.Exchange(ref peak, process.WorkingSet64);
        }
    }
}

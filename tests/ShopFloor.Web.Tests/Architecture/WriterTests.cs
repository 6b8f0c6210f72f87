using ShopFloor.Data;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>Who changes the database, and that what is called a read does not. Each test was seen to fail on the violation named beside it.</summary>
public sealed class WriterTests
{
    /// <summary>Beside the runner; docs/architecture.md says why of each.</summary>
    private static readonly string[] Beside =
    [
        "Api/KeySignIn.cs",
        "Background/Demo/DemoBooks.cs",
        "Background/Demo/DemoStart.cs",
        "Background/Demo/DemoWorkshop.cs",
        "Background/Sending/SendDue.cs",
        "Commands/CommandRunner.cs",
        "Commands/CommandSetUp.cs",
        "Hosting/ResetPassword.cs",
        "Hosting/WriteCheck.cs",
        "Security/EnrolWorker.cs",
        "Security/Passkeys/PasskeySignIn.cs",
        "Security/SecondSteps/SecondStep.cs",
        "Security/SecurityLog.cs",
        "Security/SetUpOwner.cs",
        "Security/SignIn.cs",
    ];

    private static readonly string[] Writing = ["WriteGate", "SaveChanges", "ExecuteUpdate", "ExecuteDelete", "ExecuteSql"];

    // Seen to fail with SendDue taken out of the list, with a name in it that writes nothing, and with a save in a view.
    [Fact]
    public void Database_IsWrittenBy_TheRunnerAndTheListBesideIt()
    {
        const string web = "src/ShopFloor.Web/";
        var found = Tree.Files("src/ShopFloor.Web", ".cs", ".razor").Where(f => Tree.Lines(f).Any(Writes)).Select(f => f[web.Length..]);
        Assert.Equal(Beside, found);
    }

    // Seen to fail with an order desk that is called a read.
    [Fact]
    public void Reads_BeginNothingAndHoldNothing()
    {
        Type[] banned = [typeof(WriteGate), typeof(CommandRunner), typeof(ICarrier), typeof(IUseCase), typeof(IErrand)];
        var reads = typeof(Program).Assembly.GetTypes().Where(t => t.IsClass && t.IsAssignableTo(typeof(IPageView))).ToList();
        Assert.NotEmpty(reads);
        var wrong =
            from read in reads
            from needed in read.GetConstructors().SelectMany(c => c.GetParameters())
            where Array.Exists(banned, needed.ParameterType.IsAssignableTo)
            select $"{read.Name} needs {needed.ParameterType.Name}";
        Assert.Empty(wrong);
        Assert.DoesNotContain(reads, t => t.IsAssignableTo(typeof(IDisposable)));
    }

    // What a use case does with its own context stands within the runner's transaction.
    private static bool Writes(string line) =>
        Writing.Any(w => line.Contains(w, StringComparison.Ordinal)) && !line.Contains("work.Context.", StringComparison.Ordinal);
}
